import { CHOICES_OF, type ElementField, YES_NO_FIELDS } from '@/lib/registry/forms/lesion-fields';

interface CellChoice {
  readonly code: string;
  readonly label: string;
  /** The letter that chooses it while the cell has the focus. */
  readonly letter?: string;
}

const LETTERS: Readonly<Record<string, string>> = {
  done: 'd',
  'not-done': 'n',
  'not-applicable': 'a',
  bidirectional: 'b',
  'one-way': 'o',
  none: 'n',
  pacing: 'p',
  activation: 'a',
  'double-potentials': 'd',
};
const YES_NO: readonly CellChoice[] = [
  { code: 'yes', label: 'yes', letter: 'y' },
  { code: 'no', label: 'no', letter: 'n' },
];

/** The choices of a field with their letters; none for a field that is typed. */
export function choicesOfCell(field: ElementField): readonly CellChoice[] | null {
  if (YES_NO_FIELDS.includes(field)) return YES_NO;
  const list = CHOICES_OF[field];
  return (
    list?.map(({ code, label }) => ({ code, label, ...(LETTERS[code] ? { letter: LETTERS[code] } : {}) })) ??
    null
  );
}

/** The choice that a key makes in a cell: its letter, or Delete for nothing; undefined leaves the key to the browser. */
export function choiceOfKey(field: ElementField, key: string): string | undefined {
  if (key === 'Delete' || key === 'Backspace') return '';
  return choicesOfCell(field)?.find(({ letter }) => letter !== undefined && letter === key.toLowerCase())
    ?.code;
}

/** 'd done, n not done, a not applicable': shown above the table. */
export function lettersInWords(field: ElementField): string {
  return (choicesOfCell(field) ?? [])
    .map(({ letter, label }) => `${letter} ${label.toLowerCase()}`)
    .join(', ');
}

/** Heads of the columns, unit included. */
export const COLUMN_HEADS: Readonly<Record<ElementField, string>> = {
  state: 'State',
  stateReason: 'Why not',
  distanceMm: 'Ostium, mm',
  amplitudeBefore: 'Before, mV',
  amplitudeAfter: 'After, mV',
  applications: 'Appl.',
  totalSeconds: 'In all, s',
  longestSeconds: 'Longest, s',
  firstPass: 'First pass',
  finalCheck: 'Final check',
  vagalResponse: 'Vagal reflex',
  block: 'Block',
  blockTest: 'Tested by',
  reconnected: 'Reconnected',
};
