import { z } from 'zod';
import { BLOCK_TESTS, LINE_BLOCKS, STATE_REASONS } from '../lesion-vocabulary';
import { amplitudeEntry, choiceEntry, numberEntry, yesNoEntry } from './entries';
import { ELEMENT_NUMBERS, type ElementField, TYPED_STATES } from './lesion-fields';
import { elementLabel } from './lesion-labels';

/** The fields of one segment or line, with its own name in every message. */
export function elementEntries(structure: string, segment: string) {
  const label = (field: ElementField) => elementLabel(structure, segment, field);
  const number = (field: keyof typeof ELEMENT_NUMBERS) =>
    numberEntry({ ...ELEMENT_NUMBERS[field], label: label(field) });
  return z.strictObject({
    state: choiceEntry(label('state'), TYPED_STATES),
    stateReason: choiceEntry(label('stateReason'), STATE_REASONS),
    distanceMm: number('distanceMm'),
    /** Millivolt as typed; whole microvolt from here on. */
    amplitudeBefore: amplitudeEntry(label('amplitudeBefore')),
    amplitudeAfter: amplitudeEntry(label('amplitudeAfter')),
    applications: number('applications'),
    totalSeconds: number('totalSeconds'),
    longestSeconds: number('longestSeconds'),
    firstPass: yesNoEntry(label('firstPass')),
    finalCheck: yesNoEntry(label('finalCheck')),
    vagalResponse: yesNoEntry(label('vagalResponse')),
    block: choiceEntry(label('block'), LINE_BLOCKS),
    blockTest: choiceEntry(label('blockTest'), BLOCK_TESTS),
    reconnected: yesNoEntry(label('reconnected')),
  });
}
export type ElementEntries = z.output<ReturnType<typeof elementEntries>>;
