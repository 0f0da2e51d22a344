import type { Cohort } from './cohort';
import { freedomNoun } from './endpoint-sentence';
import {
  EVIDENCE_STRIDE,
  gradeIndexOf,
  ITEM_KIND,
  isAtMost,
  isSymptomatic,
  isWholeTracing,
  kindOf,
  rhythmIndexOf,
} from './rhythm-evidence';
import { type DerivedOutcomes, placeOfCase, STATUS } from './time-to-event';
import { END_CAUSES, type ExclusionReason } from './time-to-event-causes';
import { EVIDENCE_GRADES, RHYTHMS } from './vocabulary';

/**
 * One plain sentence that says why a case of the cohort has the status it has under the definition, with the days to
 * look at: "AF of 95 s on day 131, ECG." The page and the export print it beside the case.
 */
export function explainOutcome(cohort: Cohort, outcomes: DerivedOutcomes, caseIndex: number): string {
  const place = placeOfCase(outcomes, caseIndex);
  if (place === null) return 'Not in this selection of cases.';
  if (place.kind === 'excluded') return explainExclusion(cohort, outcomes, caseIndex, place.reason);
  const { position } = place;
  return outcomes.status[position] === STATUS.censored
    ? explainFreedom(cohort, outcomes, caseIndex, position)
    : explainEvent(cohort, outcomes, caseIndex, position);
}

function explainFreedom(
  cohort: Cohort,
  outcomes: DerivedOutcomes,
  caseIndex: number,
  position: number,
): string {
  const item = outcomes.decidingItem[position];
  const code = cohort.evidence[item + 1];
  const rhythm = RHYTHMS[rhythmIndexOf(code)];
  const seconds = cohort.evidence[item + 2];
  const shown =
    seconds < 0 ? inSentence(rhythm.label) : `${inSentence(rhythm.label)} of ${inSeconds(code, seconds)}`;
  const found = rhythm.code === 'sinus' ? 'none' : `nothing that counts (${shown})`;
  const noun = freedomNoun(outcomes.rules);
  const start = `${capital(noun)} to day ${outcomes.timeDays[position]}, the last recording (${gradeLabel(code)}) that found ${found}`;
  switch (END_CAUSES[outcomes.cause[position]].code) {
    case 'censored-at-repeat':
      return `${start} up to the repeat ablation on day ${cohort.daysToNext[caseIndex]}.`;
    case 'censored-at-death':
      return `${start} up to death on day ${cohort.daysToDeath[caseIndex]}.`;
    case 'censored-drug-status-unknown':
      return `${start} while class I and III drugs were known; what came later is not looked at.`;
    default:
      return `${start}.`;
  }
}

function explainEvent(
  cohort: Cohort,
  outcomes: DerivedOutcomes,
  caseIndex: number,
  position: number,
): string {
  const day = outcomes.timeDays[position];
  const item = outcomes.decidingItem[position];
  switch (END_CAUSES[outcomes.cause[position]].code) {
    case 'cardioversion':
      return `Cardioversion on day ${day}.`;
    case 'drug': {
      if (item < 0) return `On a class I or III drug on day ${day}, the first day that counts.`;
      const freeBefore =
        outcomes.rules.drugRule === 'resumption-is-failure' ? ' after at least one drug-free day' : '';
      return `Class I or III drug started on day ${day}${freeBefore}.`;
    }
    case 'repeat': {
      const repeated = cohort.daysToNext[caseIndex];
      if (repeated === day) return `Repeat ablation on day ${day}.`;
      return `Repeat ablation on day ${repeated}, during blanking: counts on day ${day}.`;
    }
    case 'death':
      return outcomes.status[position] === STATUS.competingDeath
        ? `Died on day ${day} with no event before.`
        : `Died on day ${day}: death is failure.`;
    default:
      return explainRecording(cohort, outcomes, item, day);
  }
}

function explainRecording(cohort: Cohort, outcomes: DerivedOutcomes, item: number, day: number): string {
  const code = cohort.evidence[item + 1];
  const seconds = cohort.evidence[item + 2];
  const label = RHYTHMS[rhythmIndexOf(code)].label;
  const rhythm =
    outcomes.rules.symptomaticOnly && isSymptomatic(code) ? `Symptomatic ${inSentence(label)}` : label;
  const fills = isWholeTracing(code);
  let length = ' of unknown length';
  if (seconds >= 0) length = ` of ${inSeconds(code, seconds)}${fills ? ', the whole tracing,' : ''}`;
  else if (fills) length = ' that filled the whole tracing';
  const began = cohort.evidence[item];
  const when =
    began === day
      ? `on day ${day}`
      : `from day ${began}, during blanking, to day ${cohort.evidence[item + 3]}: counts on day ${day}`;
  return `${rhythm}${length} ${when}, ${gradeLabel(code)}.`;
}

function explainExclusion(
  cohort: Cohort,
  outcomes: DerivedOutcomes,
  caseIndex: number,
  reason: ExclusionReason,
): string {
  const blanking = `day ${Math.max(0, outcomes.firstUnblankedDay - 1)}`;
  const next = `day ${cohort.daysToNext[caseIndex]}`;
  const death = `day ${cohort.daysToDeath[caseIndex]}`;
  const recording = recordingInWords(cohort, outcomes, caseIndex);
  const why: Readonly<Record<ExclusionReason, string>> = {
    'not-first-procedure': `procedure ${cohort.ordinal[caseIndex]} of the patient, not the first`,
    'not-last-procedure': `not the last procedure of the patient, the next was on ${next}`,
    'repeat-in-blanking': `repeat ablation on ${next}, during blanking`,
    'death-in-blanking': `died on ${death}, during blanking`,
    'no-recording-before-repeat': `${recording} between ${blanking} and the repeat ablation on ${next}`,
    'no-recording-before-death': `${recording} between ${blanking} and death on ${death}`,
    'drug-status-unknown-after-blanking': `after ${blanking} no qualifying recording while class I and III drugs were known`,
    'no-recording-after-blanking': `${recording} ${outcomes.firstUnblankedDay === 0 ? 'from day 0 on' : `after ${blanking}`}`,
  };
  return `Not analysed: ${why[reason]}.`;
}

/** "no recording", or "no qualifying recording" when there are some after blanking that do not show freedom. */
function recordingInWords(cohort: Cohort, outcomes: DerivedOutcomes, caseIndex: number): string {
  for (
    let at = cohort.evidenceStart[caseIndex];
    at < cohort.evidenceStart[caseIndex + 1];
    at += EVIDENCE_STRIDE
  ) {
    const isRecording = kindOf(cohort.evidence[at + 1]) === ITEM_KIND.recording;
    if (isRecording && cohort.evidence[at] >= 0 && cohort.evidence[at + 4] >= outcomes.firstUnblankedDay) {
      return 'no qualifying recording';
    }
  }
  return 'no recording';
}

/** '95 s'; 'at most 5400 s (the burden of the day)' where a device gave no longest episode. */
const inSeconds = (code: number, seconds: number): string =>
  isAtMost(code) ? `at most ${seconds} s (the burden of the day)` : `${seconds} s`;

const gradeLabel = (code: number): string => inSentence(EVIDENCE_GRADES[gradeIndexOf(code)].label);

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A label inside a sentence: abbreviations (AF, ECG) stay, words lose their capital. */
const inSentence = (label: string): string =>
  /^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;
