import {
  CHALLENGE_RESULTS,
  DRUG_CHALLENGES,
  MEASURED_RHYTHMS,
  VEIN_BLOCKS,
} from '@/lib/registry/acute-vocabulary';
import { BLOCK_TESTS, ELEMENT_STATES, LINE_BLOCKS, STATE_REASONS } from '@/lib/registry/lesion-vocabulary';
import { labelOf, STRATEGIES, type Term } from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';

const LISTS: Readonly<Record<string, readonly Term[]>> = {
  state: ELEMENT_STATES,
  stateReason: STATE_REASONS,
  block: LINE_BLOCKS,
  blockTest: BLOCK_TESTS,
  measuredInRhythm: MEASURED_RHYTHMS,
  entranceBlock: VEIN_BLOCKS,
  exitBlock: VEIN_BLOCKS,
  drugChallenge: DRUG_CHALLENGES,
  drugChallengeResult: CHALLENGE_RESULTS,
  settledStrategy: STRATEGIES,
};

/** A value of the lesion form as people read it; fields of a segment are known by their last name. */
export function wordsForLesions(field: string, value: FormValue): string {
  if (value === null || value === '') return 'not recorded';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const list = LISTS[field.slice(field.lastIndexOf('.') + 1)];
  return list ? labelOf(list, String(value)) : String(value);
}
