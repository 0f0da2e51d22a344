import { EVIDENCE_STRIDE, ITEM_KIND, isWholeTracing, kindOf, rhythmIndexOf } from '../rhythm-evidence';
import { RHYTHMS } from '../vocabulary';

/** Blanking of the scores that ask for early recurrence: 90 days, its last day included (2012 and 2017 consensus). */
const BLANKING_DAYS = 90;
const LEAST_SECONDS = 30;

/**
 * Whether AF, AT or flutter of 30 s or more (or of a whole tracing) was recorded on days 1 to 90 after the procedure.
 * `evidence` is packed as in rhythm-evidence.ts. Null before day 91, and when no recording was made in those days.
 */
export function earlyRecurrenceOf(evidence: ArrayLike<number>, daysSince: number): boolean | null {
  if (daysSince <= BLANKING_DAYS) return null;
  let wasRecorded = false;
  for (let at = 0; at < evidence.length; at += EVIDENCE_STRIDE) {
    const [day, code, seconds, endDay] = [evidence[at], evidence[at + 1], evidence[at + 2], evidence[at + 3]];
    if (day === undefined || code === undefined || seconds === undefined || endDay === undefined) break;
    if (kindOf(code) !== ITEM_KIND.recording || endDay < 1 || day > BLANKING_DAYS) continue;
    wasRecorded = true;
    const rhythm = RHYTHMS[rhythmIndexOf(code)]?.code;
    const counts = rhythm !== undefined && rhythm !== 'sinus' && rhythm !== 'other';
    if (counts && (isWholeTracing(code) || seconds >= LEAST_SECONDS)) return true;
  }
  return wasRecorded ? false : null;
}
