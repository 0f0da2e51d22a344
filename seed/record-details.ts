import { type CaseState, missingForEntered, missingForSigned } from '../lib/registry/case-state';
import { LAST_DAY, type LabDay } from './calendar';
import type { RandomStream } from './random';

/** What was written about a procedure besides its numbers. */
export interface RecordDetails {
  readonly indication: string | null;
  readonly imaging: string | null;
  readonly anaesthesia: string | null;
  readonly thrombusExclusion: string | null;
  readonly anticoagulation: string | null;
  readonly entranceBlock: string | null;
  readonly exitBlock: string | null;
  readonly measuredInRhythm: string | null;
  readonly drugChallenge: string | null;
  readonly drugChallengeResult: string | null;
}

/** One value in so many is not written down. */
const LEFT_OUT = 0.01;

/** Shares are ours, invented. `stream` is the record's own, so that nothing drawn elsewhere moves. */
export function drawRecordDetails(
  stream: RandomStream,
  { isRepeat, isBalloon }: { readonly isRepeat: boolean; readonly isBalloon: boolean },
): RecordDetails {
  const written = (value: string) => (stream.happens(LEFT_OUT) ? null : value);
  const either = (share: number, one: string, other: string) => (stream.happens(share) ? one : other);
  const challenge = written(either(0.6, 'none', 'adenosine'));
  return {
    indication: written(isRepeat ? 'recurrence' : either(0.8, 'symptoms-drug-failed', 'symptoms-first-line')),
    imaging: written(isBalloon ? 'fluoroscopy' : either(0.7, 'map', 'map-ct')),
    anaesthesia: written(either(0.75, 'deep-sedation', 'general')),
    thrombusExclusion: written(either(0.8, 'toe', 'ct')),
    anticoagulation: written(either(0.85, 'uninterrupted', 'one-dose')),
    entranceBlock: written(either(0.97, 'all', 'some')),
    exitBlock: written(either(0.6, 'all', 'not-tested')),
    measuredInRhythm: isBalloon ? null : written(either(0.7, 'sinus', 'paced')),
    drugChallenge: challenge,
    drugChallengeResult: challenge === 'adenosine' ? 'no-conduction' : null,
  };
}

/** The newest cases are still being written. */
const FRESH_DAYS = 10;
/** A physician signs the cases of a week or two at once. */
export const SIGNED_AFTER_DAYS = 14;

/** How far the record of a case has come, by the same rules as for every case. */
export function stateOfRecord(
  day: LabDay,
  facts: Omit<Parameters<typeof missingForEntered>[0], 'state'>,
): CaseState {
  const asDraft = { ...facts, state: 'draft' as const };
  if (day > LAST_DAY - FRESH_DAYS || missingForEntered(asDraft).length > 0) return 'draft';
  const isSigned = day <= LAST_DAY - SIGNED_AFTER_DAYS && missingForSigned(asDraft).length === 0;
  return isSigned ? 'signed' : 'entered';
}
