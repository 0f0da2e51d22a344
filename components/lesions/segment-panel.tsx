'use client';

import { useEffect, useId, useRef } from 'react';
import { useFormContext, useWatch } from 'react-hook-form';
import { Button } from '@/components/ui/button';
import { ELEMENT_FIELD_LABELS, type ElementField, fieldsOf } from '@/lib/registry/forms/lesion-fields';
import { segmentLabel } from '@/lib/registry/forms/lesion-labels';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { kindOfStructure, REASONS_NOT_APPLICABLE } from '@/lib/registry/lesion-vocabulary';
import { COLUMN_HEADS, choicesOfCell } from './cell-choices';
import type { Place } from './schematic';
import styles from './segment-panel.module.css';
import type { LesionCells } from './use-lesion-cells';

interface SegmentPanelProps {
  readonly place: Place;
  readonly isRepeat: boolean;
  readonly cells: LesionCells;
  readonly onNext: () => void;
  readonly onFilled: (words: string) => void;
}

/** The fields of the segment that was chosen in the schematic: the same cells as in the table, for a finger. */
export function SegmentPanel({ place, isRepeat, cells, onNext, onFilled }: SegmentPanelProps) {
  const { structure, segment } = place;
  const { control } = useFormContext<LesionValues>();
  const typed = useWatch({ control, name: `elements.${structure}.${segment}` });
  const title = useRef<HTMLHeadingElement>(null);
  const id = useId();
  // A new choice is read aloud, and the fields are one Tab away.
  useEffect(() => {
    if (structure && segment) title.current?.focus({ preventScroll: true });
  }, [structure, segment]);
  const isLeft = typed.state === 'not-done' || typed.state === 'not-applicable';
  const fields = fieldsOf(structure, isRepeat).filter(
    (field) => field !== 'stateReason' || isLeft || typed[field] !== '',
  );
  const fillRest = () => {
    const count = cells.fillRestLike(place);
    onFilled(count === 0 ? 'No segment had room for it.' : `${count} segments filled.`);
  };
  return (
    <section className={styles.panel} aria-labelledby={`${id}-title`}>
      <h3 ref={title} id={`${id}-title`} tabIndex={-1}>
        {segmentLabel(structure, segment)}
      </h3>
      <div className={styles.fields}>
        {fields.map((field) => (
          <PanelField
            key={field}
            id={`${id}-${field}`}
            field={field}
            value={typed[field]}
            offers={(code) => field !== 'stateReason' || isReasonFor(typed.state, code)}
            onChange={(value) => cells.change(place, field, value)}
          />
        ))}
      </div>
      <div className={styles.actions}>
        <Button onClick={onNext}>Next segment</Button>
        {kindOfStructure(structure) === 'line' ? null : (
          <Button onClick={fillRest}>Fill the rest of the ring like this</Button>
        )}
      </div>
    </section>
  );
}

interface PanelFieldProps {
  readonly id: string;
  readonly field: ElementField;
  readonly value: string;
  /** Whether a choice fits the rest of the segment. */
  readonly offers: (code: string) => boolean;
  readonly onChange: (value: string) => void;
}

const isReasonFor = (state: string, reason: string): boolean =>
  REASONS_NOT_APPLICABLE.some((code) => code === reason) === (state === 'not-applicable');

const WORDS: Partial<Readonly<Record<ElementField, string>>> = {
  distanceMm: 'From the ostium, mm',
  applications: 'Applications',
  totalSeconds: 'Seconds in all',
  longestSeconds: 'Longest application, s',
  reconnected: 'Found reconnected',
};

function PanelField({ id, field, value, offers, onChange }: PanelFieldProps) {
  const choices = choicesOfCell(field);
  const label = WORDS[field] ?? COLUMN_HEADS[field];
  if (choices === null) {
    return (
      <div className={styles.typed}>
        <label htmlFor={id}>{label}</label>
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={value}
          onChange={(event) => onChange(event.target.value)}
          // Enter would send the whole form.
          onKeyDown={(event) => event.key === 'Enter' && event.preventDefault()}
        />
      </div>
    );
  }
  return (
    <fieldset className={styles.choice}>
      <legend>{label}</legend>
      {choices
        .filter(({ code }) => offers(code) || code === value)
        .map((choice) => (
          // A second press on a choice takes it back, so that 'nothing recorded' needs no choice of its own.
          <button
            key={choice.code}
            type="button"
            aria-pressed={value === choice.code}
            aria-label={`${ELEMENT_FIELD_LABELS[field]}: ${choice.label}`}
            onClick={() => onChange(value === choice.code ? '' : choice.code)}
          >
            {choice.label}
          </button>
        ))}
    </fieldset>
  );
}
