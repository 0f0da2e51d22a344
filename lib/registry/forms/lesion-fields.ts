import {
  BLOCK_TESTS,
  ELEMENT_STATES,
  kindOfStructure,
  LINE_BLOCKS,
  STATE_REASONS,
} from '../lesion-vocabulary';
import type { Term } from '../vocabulary';
import type { NumberField } from './entries';

/** What is typed of one segment or line, in the order of the table. */
export const ELEMENT_FIELDS = [
  'state',
  'stateReason',
  'distanceMm',
  'amplitudeBefore',
  'amplitudeAfter',
  'applications',
  'totalSeconds',
  'longestSeconds',
  'firstPass',
  'finalCheck',
  'vagalResponse',
  'block',
  'blockTest',
  'reconnected',
] as const;
export type ElementField = (typeof ELEMENT_FIELDS)[number];

export const ELEMENT_FIELD_LABELS: Readonly<Record<ElementField, string>> = {
  state: 'state',
  stateReason: 'why not',
  distanceMm: 'from the ostium',
  amplitudeBefore: 'before',
  amplitudeAfter: 'after',
  applications: 'applications',
  totalSeconds: 'seconds in all',
  longestSeconds: 'longest application',
  firstPass: 'first pass',
  finalCheck: 'final check',
  vagalResponse: 'vagal reflex',
  block: 'block',
  blockTest: 'block tested by',
  reconnected: 'found reconnected',
};

/** An empty state means that nothing was recorded, so it is no choice of its own. */
export const TYPED_STATES = ELEMENT_STATES.filter((term) => term.code !== 'not-recorded');

/** Where the choices of a field come from; yes or no for the others that are chosen. */
export const CHOICES_OF: Partial<Readonly<Record<ElementField, readonly Term[]>>> = {
  state: TYPED_STATES,
  stateReason: STATE_REASONS,
  block: LINE_BLOCKS,
  blockTest: BLOCK_TESTS,
};
export const YES_NO_FIELDS: readonly ElementField[] = [
  'firstPass',
  'finalCheck',
  'vagalResponse',
  'reconnected',
];

/** Fields that only energy gives: none of them goes with a segment that was not done. */
export const FIELDS_OF_ABLATION: readonly ElementField[] = [
  'distanceMm',
  'amplitudeAfter',
  'applications',
  'totalSeconds',
  'longestSeconds',
  'firstPass',
  'finalCheck',
  'vagalResponse',
  'block',
  'blockTest',
];

/** A ring has a distance and a first pass, a line has block; what had reconnected is asked at a repeat only. */
export function fieldsOf(structure: string, isRepeat: boolean): ElementField[] {
  const isLine = kindOfStructure(structure) === 'line';
  const left: readonly ElementField[] = isLine ? ['distanceMm', 'firstPass'] : ['block', 'blockTest'];
  return ELEMENT_FIELDS.filter((field) => !left.includes(field) && (isRepeat || field !== 'reconnected'));
}

/** Impossible limits are those of the database; usual ones are common practice, no source. */
export const ELEMENT_NUMBERS = {
  distanceMm: { unit: 'mm', min: 0, max: 60, decimals: 1 },
  applications: { unit: '', min: 0, max: 500, usualMax: 60, decimals: 0 },
  totalSeconds: { unit: 's', min: 0, max: 36_000, usualMax: 2400, decimals: 0 },
  longestSeconds: { unit: 's', min: 0, max: 3600, decimals: 0 },
} as const satisfies Partial<Record<ElementField, Omit<NumberField, 'label'>>>;

export const WAITING_MINUTES = {
  label: 'Waiting time',
  unit: 'min',
  min: 0,
  max: 1440,
  usualMax: 90,
  decimals: 0,
} as const satisfies NumberField;
