'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import { useFormContext } from 'react-hook-form';
import { ELEMENT_FIELDS, type ElementField } from '@/lib/registry/forms/lesion-fields';
import {
  commonValue,
  type Fill,
  fillDown,
  fillRest,
  fillRing,
  fillsOfState,
  type RingRow,
  ringTakers,
  stateOfTyping,
} from '@/lib/registry/forms/lesion-fill';
import { elementPath } from '@/lib/registry/forms/lesion-labels';
import type { LesionValues, TypedElement } from '@/lib/registry/forms/lesion-values';
import { STRUCTURES, segmentsOf } from '@/lib/registry/lesion-vocabulary';
import type { Place } from './schematic';

/** What is planned for each whole ring, by structure and field. */
type Plans = Readonly<Record<string, Partial<TypedElement>>>;

export interface LesionCells {
  readonly plans: Plans;
  /** Writes a cell by whatever way it was typed, with what goes with it. */
  readonly change: (place: Place, field: ElementField, value: string) => void;
  /** What goes with a cell that the form has already taken, `before` being the row as it was. */
  readonly follow: (place: Place, field: ElementField, value: string, before: TypedElement) => void;
  readonly rowOf: (place: Place) => TypedElement;
  /** Segments that a value for the whole ring would go to now. */
  readonly takersOf: (structure: string, field: ElementField) => readonly string[];
  /** A value for the whole ring, while it is typed, to the segments that took it from the beginning. */
  readonly changeRing: (
    structure: string,
    field: ElementField,
    takers: readonly string[],
    value: string,
  ) => void;
  readonly fillDownFrom: (place: Place, field: ElementField) => number;
  readonly fillRestLike: (place: Place) => number;
}

/** The cells of the form behind table, panel and whole-ring rows: one way of writing for all three. */
export function useLesionCells(): LesionCells {
  const { getValues, setValue, subscribe } = useFormContext<LesionValues>();
  const [plans, setPlans] = useState<Plans>(() => plansOf(getValues('elements')));
  const latest = useRef(plans);
  const plan = useCallback((structure: string, field: ElementField, value: string) => {
    latest.current = { ...latest.current, [structure]: { ...latest.current[structure], [field]: value } };
    setPlans(latest.current);
  }, []);
  // A reset has no name: a draft was taken up, and with it other rings as planned.
  useEffect(
    () =>
      subscribe({
        formState: { values: true },
        callback: ({ name }) => {
          if (name !== undefined) return;
          latest.current = plansOf(getValues('elements'));
          setPlans(latest.current);
        },
      }),
    [subscribe, getValues],
  );
  const ringOf = useCallback(
    (structure: string): RingRow =>
      segmentsOf(structure).map(({ code }) => ({
        segment: code,
        typed: getValues(`elements.${structure}.${code}`),
      })),
    [getValues],
  );
  const put = useCallback(
    (structure: string, fills: readonly Fill[]) => {
      for (const { segment, field, value } of fills) {
        setValue(elementPath(structure, segment, field), value, { shouldDirty: true });
      }
    },
    [setValue],
  );
  const follow = useCallback<LesionCells['follow']>(
    ({ structure, segment }, field, value, before) => {
      if (field === 'state')
        put(structure, fillsOfState(segment, before, latest.current[structure] ?? {}, value));
      const state = stateOfTyping(before, field, value);
      if (state !== null) put(structure, [{ segment, field: 'state', value: state }]);
    },
    [put],
  );
  const rowOf = useCallback<LesionCells['rowOf']>(
    ({ structure, segment }) => ({ ...getValues(`elements.${structure}.${segment}`) }),
    [getValues],
  );
  const change = useCallback<LesionCells['change']>(
    (place, field, value) => {
      const before = rowOf(place);
      put(place.structure, [{ segment: place.segment, field, value }]);
      follow(place, field, value, before);
    },
    [rowOf, put, follow],
  );
  const fill = useCallback(
    (structure: string, fills: readonly Fill[]) => {
      for (const { segment, field, value } of fills) change({ structure, segment }, field, value);
      return new Set(fills.map(({ segment }) => segment)).size;
    },
    [change],
  );
  const takersOf = useCallback<LesionCells['takersOf']>(
    (structure, field) => ringTakers(ringOf(structure), field, latest.current[structure]?.[field] ?? ''),
    [ringOf],
  );
  const changeRing = useCallback<LesionCells['changeRing']>(
    (structure, field, takers, value) => {
      fill(structure, fillRing(ringOf(structure), field, takers, value));
      plan(structure, field, value);
      if (field !== 'state') plan(structure, 'state', commonValue(ringOf(structure), 'state'));
    },
    [fill, ringOf, plan],
  );
  const fillDownFrom = useCallback<LesionCells['fillDownFrom']>(
    ({ structure, segment }, field) => fill(structure, fillDown(ringOf(structure), field, segment)),
    [fill, ringOf],
  );
  const fillRestLike = useCallback<LesionCells['fillRestLike']>(
    ({ structure, segment }) => fill(structure, fillRest(ringOf(structure), segment)),
    [fill, ringOf],
  );
  return { plans, change, follow, rowOf, takersOf, changeRing, fillDownFrom, fillRestLike };
}

function plansOf(elements: LesionValues['elements']): Plans {
  return Object.fromEntries(
    STRUCTURES.map(({ code }) => {
      const ring = segmentsOf(code).map((term) => ({ segment: term.code, typed: elements[code][term.code] }));
      return [code, Object.fromEntries(ELEMENT_FIELDS.map((field) => [field, commonValue(ring, field)]))];
    }),
  );
}
