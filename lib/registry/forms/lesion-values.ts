import type { AcuteFacts } from '../acute-endpoint';
import type { LesionElement } from '../lesion-set';
import { STRUCTURES, segmentsOf, VEIN_RINGS } from '../lesion-vocabulary';
import { millivoltText, readMillivolt } from '../millivolt';
import { readNumber } from './entries';
import { ELEMENT_FIELDS, ELEMENT_NUMBERS, type ElementField } from './lesion-fields';
import type { LesionFormInput } from './lesion-form';
import { elementPath } from './lesion-labels';

/** A lesion set with its acute endpoint as stored with a case. */
export interface StoredLesions extends AcuteFacts {
  readonly veins: readonly string[];
  readonly measuredInRhythm: string | null;
  readonly settledStrategy: string | null;
  readonly elements: readonly LesionElement[];
}

/** One segment as the form holds it: text, '' for nothing. */
export type TypedElement = Record<ElementField, string>;
export type TypedElements = Record<string, Record<string, TypedElement>>;

export interface LesionValues {
  veins: Record<string, boolean>;
  measuredInRhythm: string;
  entranceBlock: string;
  exitBlock: string;
  waitingMinutes: string;
  drugChallenge: string;
  drugChallengeResult: string;
  settledStrategy: string;
  elements: TypedElements;
  applications: string[][] | null;
  kept: { field: string; reason: string }[];
  version: number;
  reason: string;
}

const text = (value: string | number | null): string => (value === null ? '' : String(value));
const yesNo = (value: boolean | null): string => (value === null ? '' : value ? 'yes' : 'no');
const millivolt = (uv: number | null): string => (uv === null ? '' : millivoltText(uv));

/** A stored set as the form holds it: every ring and line that any anatomy may have, so that a change of veins loses nothing. */
export function lesionValuesOf(
  stored: StoredLesions,
  version: number,
  kept: readonly { readonly field: string; readonly reason: string }[] = [],
): LesionValues {
  const known = new Map(stored.elements.map((one) => [`${one.structure} ${one.segment}`, one]));
  const elements = Object.fromEntries(
    STRUCTURES.map(({ code }) => [
      code,
      Object.fromEntries(
        segmentsOf(code).map((term) => [term.code, typedElement(known.get(`${code} ${term.code}`))]),
      ),
    ]),
  );
  return {
    veins: Object.fromEntries(VEIN_RINGS.map(({ code }) => [code, stored.veins.includes(code)])),
    measuredInRhythm: text(stored.measuredInRhythm),
    entranceBlock: text(stored.entranceBlock),
    exitBlock: text(stored.exitBlock),
    waitingMinutes: text(stored.waitingMinutes),
    drugChallenge: text(stored.drugChallenge),
    drugChallengeResult: text(stored.drugChallengeResult),
    settledStrategy: text(stored.settledStrategy),
    elements,
    applications: null,
    kept: kept.map(({ field, reason }) => ({ field, reason })),
    version,
    reason: '',
  } satisfies LesionFormInput;
}

function typedElement(element: LesionElement | undefined): TypedElement {
  return {
    state: element === undefined || element.state === 'not-recorded' ? '' : element.state,
    stateReason: text(element?.stateReason ?? null),
    distanceMm: text(element?.distanceMm ?? null),
    amplitudeBefore: millivolt(element?.amplitudeBeforeUv ?? null),
    amplitudeAfter: millivolt(element?.amplitudeAfterUv ?? null),
    applications: text(element?.applications ?? null),
    totalSeconds: text(element?.totalSeconds ?? null),
    longestSeconds: text(element?.longestSeconds ?? null),
    firstPass: yesNo(element?.firstPass ?? null),
    finalCheck: yesNo(element?.finalCheck ?? null),
    vagalResponse: yesNo(element?.vagalResponse ?? null),
    block: text(element?.block ?? null),
    blockTest: text(element?.blockTest ?? null),
    reconnected: yesNo(element?.reconnected ?? null),
  };
}

/** The same values by path, as conflicts name them. */
export function lesionValuesByPath(stored: StoredLesions): Record<string, string | boolean> {
  const {
    veins,
    elements,
    applications: _rows,
    kept: _kept,
    version: _version,
    reason: _reason,
    ...own
  } = lesionValuesOf(stored, 1);
  const inner = STRUCTURES.flatMap(({ code }) =>
    segmentsOf(code).flatMap((term) =>
      ELEMENT_FIELDS.map((field) => [elementPath(code, term.code, field), elements[code][term.code][field]]),
    ),
  );
  const ticks = Object.entries(veins).map(([vein, isThere]) => [`veins.${vein}`, isThere]);
  return { ...own, ...Object.fromEntries(ticks), ...Object.fromEntries(inner) };
}

/** What a set shows while it is being typed: what can be read already, and nothing in the place of what cannot. */
export function draftElements(typed: TypedElements): LesionElement[] {
  return STRUCTURES.flatMap(({ code: structure }) =>
    segmentsOf(structure).flatMap(({ code: segment }) => {
      const element = typed[structure]?.[segment];
      if (element === undefined || ELEMENT_FIELDS.every((field) => element[field] === '')) return [];
      return [draftElement(structure, segment, element)];
    }),
  );
}

function draftElement(structure: string, segment: string, element: TypedElement): LesionElement {
  const number = (field: keyof typeof ELEMENT_NUMBERS) => {
    const reading = readNumber(element[field], { ...ELEMENT_NUMBERS[field], label: '' });
    return 'value' in reading ? reading.value : null;
  };
  const amplitude = (typed: string) => {
    const reading = readMillivolt(typed.trim());
    return 'uv' in reading ? reading.uv : null;
  };
  const ticked = (typed: string) => (typed === '' ? null : typed === 'yes');
  return {
    structure,
    segment,
    state: element.state || 'not-recorded',
    stateReason: element.stateReason || null,
    distanceMm: number('distanceMm'),
    amplitudeBeforeUv: amplitude(element.amplitudeBefore),
    amplitudeAfterUv: amplitude(element.amplitudeAfter),
    applications: number('applications'),
    totalSeconds: number('totalSeconds'),
    longestSeconds: number('longestSeconds'),
    firstPass: ticked(element.firstPass),
    finalCheck: ticked(element.finalCheck),
    block: element.block || null,
    blockTest: element.blockTest || null,
    vagalResponse: ticked(element.vagalResponse),
    reconnected: ticked(element.reconnected),
  };
}
