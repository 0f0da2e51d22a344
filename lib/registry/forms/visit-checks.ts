import { type CalendarDay, daysBetween } from '../calendar-day';
import { DRUGS } from '../drugs';
import { type Finding, refusal, warning } from '../findings';
import type { PlannedSlot } from '../follow-up-schedule';
import { labelOf } from '../vocabulary';
import { DRUG_LABELS, RECORDING_LABELS, VISIT_LABELS } from './field-labels';
import { warningsOfNumbers } from './plausibility';
import { RECORDING_NUMBERS, type RecordingEntries, spanOfRecording } from './recording-entries';
import { type DrugEntries, doOverlap, type VisitForm } from './visit-form';

export interface VisitContext {
  readonly performedOn: CalendarDay;
  readonly today: CalendarDay;
  readonly diedOn: CalendarDay | null;
  readonly nextPerformedOn: CalendarDay | null;
  /** The case's plan; without it the visit day is not compared with a window. */
  readonly plan?: readonly PlannedSlot[];
  /** Visits of this case already stored, without the one that is being edited. */
  readonly otherVisits?: readonly { readonly slot: string; readonly visitedOn: CalendarDay }[];
  /** Drug episodes of the patient already stored. */
  readonly drugEpisodes?: readonly {
    readonly drug: string;
    readonly startedOn: CalendarDay;
    readonly stoppedOn: CalendarDay | null;
  }[];
}

/** What speaks against a visit once its case and today's date are known: refusals and warnings, in the order of the form. */
export function checkVisitAgainstCase(visit: VisitForm, context: VisitContext): Finding[] {
  return [
    ...checkVisitDay(visit, context),
    ...(visit.cardioversionOn === null
      ? []
      : notYetOrTooLate('cardioversionOn', VISIT_LABELS.cardioversionOn, visit.cardioversionOn, context)),
    ...visit.drugs.flatMap((row, index) => checkDrug(row, index, visit.drugs, context)),
    ...visit.recordings.flatMap((recording, index) =>
      checkRecording(recording, `recordings.${index}.`, visit, context),
    ),
  ];
}

/** A day of the future, or after death, cannot have happened. */
function notYetOrTooLate(
  field: string,
  label: string,
  day: CalendarDay,
  { today, diedOn }: VisitContext,
): Finding[] {
  const found: Finding[] = [];
  if (daysBetween(today, day) > 0) {
    found.push(refusal(field, `${label}: ${day} lies in the future. Give a day up to today, ${today}.`));
  }
  if (diedOn !== null && daysBetween(diedOn, day) > 0) {
    found.push(refusal(field, `${label}: ${day} is after the death on ${diedOn}. Mend one of the two.`));
  }
  return found;
}

function checkVisitDay({ slot, visitedOn }: VisitForm, context: VisitContext): Finding[] {
  const { performedOn, nextPerformedOn, plan = [], otherVisits = [] } = context;
  const label = VISIT_LABELS.visitedOn;
  const found = notYetOrTooLate('visitedOn', label, visitedOn, context);
  if (daysBetween(performedOn, visitedOn) < 0) {
    found.push(
      refusal(
        'visitedOn',
        `${label}: ${visitedOn} is before the procedure on ${performedOn}. Check the day, or choose the earlier case.`,
      ),
    );
  }
  if (nextPerformedOn !== null && daysBetween(nextPerformedOn, visitedOn) > 0) {
    found.push(
      refusal(
        'visitedOn',
        `${label}: ${visitedOn} is after the next procedure on ${nextPerformedOn}. Enter this visit at that case.`,
      ),
    );
  }
  if (otherVisits.some((other) => other.slot === slot && other.visitedOn === visitedOn)) {
    found.push(
      refusal(
        'visitedOn',
        `${label}: this visit on ${visitedOn} is already entered. Open it and amend it instead.`,
      ),
    );
  }
  const planned = plan.find((candidate) => candidate.slot.code === slot);
  if (
    planned &&
    (daysBetween(planned.opensOn, visitedOn) < 0 || daysBetween(planned.closesOn, visitedOn) > 0)
  ) {
    found.push(
      warning(
        'visitedOn',
        `${label}: ${visitedOn} is outside the window of “${planned.slot.label}” (${planned.opensOn} to ${planned.closesOn}). Choose another visit, or keep it.`,
      ),
    );
  }
  return found;
}

function checkDrug(
  row: DrugEntries,
  index: number,
  rows: readonly DrugEntries[],
  context: VisitContext,
): Finding[] {
  const field = `drugs.${index}.`;
  const found = notYetOrTooLate(`${field}startedOn`, DRUG_LABELS.startedOn, row.startedOn, context);
  if (row.stoppedOn !== null)
    found.push(...notYetOrTooLate(`${field}stoppedOn`, DRUG_LABELS.stoppedOn, row.stoppedOn, context));
  const isMended = (stored: { drug: string; startedOn: CalendarDay }) =>
    rows.some((other) => other.drug === stored.drug && other.startedOn === stored.startedOn);
  const stored = (context.drugEpisodes ?? []).find(
    (episode) => episode.drug === row.drug && !isMended(episode) && doOverlap(episode, row),
  );
  if (stored) {
    const until = stored.stoppedOn === null ? 'and still taken' : `to ${stored.stoppedOn}`;
    found.push(
      refusal(
        `${field}startedOn`,
        `${DRUG_LABELS.startedOn}: ${labelOf(DRUGS, row.drug)} is already recorded from ${stored.startedOn} ${until}. To close or mend that episode, enter it with the same start.`,
      ),
    );
  }
  return found;
}

/** An arrhythmia somewhere in several days counts on the first of them unless its own day is given. */
function asksForOnset(recording: RecordingEntries, endedOn: CalendarDay, prefix: string): Finding[] {
  const { rhythm, startedOn, episodeStartedOn, wholeTracing } = recording;
  const found = rhythm !== 'sinus' && rhythm !== 'other';
  if (!found || wholeTracing || episodeStartedOn !== null || daysBetween(startedOn, endedOn) < 1) return [];
  return [
    warning(
      `${prefix}episodeStartedOn`,
      `${RECORDING_LABELS.episodeStartedOn} is not given. The recording ran to ${endedOn}; without that day the arrhythmia counts on ${startedOn}.`,
    ),
  ];
}

function checkRecording(
  recording: RecordingEntries,
  prefix: string,
  visit: VisitForm,
  context: VisitContext,
): Finding[] {
  const { startedOn, hours, kind } = recording;
  const { endedOn } = spanOfRecording(recording);
  const at = (name: keyof RecordingEntries) => `${prefix}${name}`;
  const found = notYetOrTooLate(at('startedOn'), RECORDING_LABELS.startedOn, startedOn, context);
  if (found.length === 0) {
    const last = recording.episodeEndedOn ?? recording.episodeStartedOn;
    const field =
      last === endedOn
        ? recording.episodeEndedOn === null
          ? 'episodeStartedOn'
          : 'episodeEndedOn'
        : 'hours';
    const label = field === 'hours' ? 'End of the recording' : RECORDING_LABELS[field];
    found.push(...notYetOrTooLate(at(field), label, endedOn, context));
  }
  if (daysBetween(startedOn, context.performedOn) > 0) {
    found.push(
      warning(
        at('startedOn'),
        `${RECORDING_LABELS.startedOn}: ${startedOn} is before the procedure on ${context.performedOn}. It is kept as evidence from before and never counts as a recurrence of this case.`,
      ),
    );
  }
  if (daysBetween(visit.visitedOn, startedOn) > 0) {
    found.push(
      warning(
        at('startedOn'),
        `${RECORDING_LABELS.startedOn}: ${startedOn} is after the visit on ${visit.visitedOn}. Check the day, or keep it.`,
      ),
    );
  }
  found.push(
    ...warningsOfNumbers({ ...recording }, RECORDING_NUMBERS, prefix),
    ...asksForOnset(recording, endedOn, prefix),
  );
  if (kind === 'holter' && hours === null) {
    found.push(
      warning(
        at('hours'),
        `${RECORDING_LABELS.hours} is not given. Without it this recording counts as no more than an ECG.`,
      ),
    );
  }
  if (kind === 'holter' && hours !== null && hours < 24) {
    found.push(
      warning(
        at('hours'),
        `${RECORDING_LABELS.hours}: ${hours} h is less than 24 h. It counts as no more than an ECG.`,
      ),
    );
  }
  if ((kind === 'ecg' || kind === 'rhythm-strip') && hours !== null && hours > 1) {
    found.push(
      warning(
        at('hours'),
        `${RECORDING_LABELS.hours}: ${hours} h is long for an ECG or strip. Choose a continuous recording, or keep it.`,
      ),
    );
  }
  return [...found, ...warningsOfEpisode(recording, prefix)];
}

/** An arrhythmia whose length nobody gave decides nothing, and days must leave room for the seconds. */
function warningsOfEpisode(recording: RecordingEntries, prefix: string): Finding[] {
  const {
    rhythm,
    wholeTracing,
    longestEpisodeSeconds: seconds,
    episodeStartedOn,
    episodeEndedOn,
  } = recording;
  const field = `${prefix}longestEpisodeSeconds`;
  const label = RECORDING_LABELS.longestEpisodeSeconds;
  if (rhythm !== 'sinus' && rhythm !== 'other' && seconds === null && !wholeTracing) {
    return [
      warning(
        field,
        `${label}: neither its seconds nor “whole tracing” is given. Without one of them this recording decides nothing.`,
      ),
    ];
  }
  if (seconds === null || episodeStartedOn === null || episodeEndedOn === null) return [];
  const wholeDaysBetween = daysBetween(episodeStartedOn, episodeEndedOn) - 1;
  if (seconds >= wholeDaysBetween * 86_400 && seconds <= (wholeDaysBetween + 2) * 86_400) return [];
  return [
    warning(
      field,
      `${label}: ${seconds} s does not fit an episode from ${episodeStartedOn} to ${episodeEndedOn}. Check the three, or keep them.`,
    ),
  ];
}
