import type { BulkPatient } from '@/lib/records/bulk-load';
import { type CalendarDay, toEpochDay } from '@/lib/registry/calendar-day';
import type { Cohort, CohortColumn } from '@/lib/registry/cohort';
import { DEVICE_KINDS } from '@/lib/registry/device-days';
import { type CaseTimeline, type PatientHistory, timelinesOf } from '@/lib/registry/patient-history';
import { ENERGIES, RECORDING_KINDS, RHYTHMS, type Term } from '@/lib/registry/vocabulary';

/** A code of the vocabulary, or an error that names it: rows carry plain text. */
function coded<Code extends string>(list: readonly Term<Code>[], code: string): Code {
  const term = list.find((candidate) => candidate.code === code);
  if (!term) throw new Error(`not in the vocabulary: ${code}`);
  return term.code;
}

/** The history of a generated patient, as records would read it back. */
export function historyOf(entry: BulkPatient): PatientHistory {
  return {
    diedOn: entry.patient.diedOn ?? null,
    procedures: entry.procedures.map((procedure) => ({
      id: procedure.id,
      ordinal: procedure.ordinal,
      performedOn: procedure.performedOn,
      deviceType: procedure.deviceType ?? null,
      energy: procedure.energy ? coded(ENERGIES, procedure.energy) : null,
      lesionElements: entry.lesionElements
        .filter((element) => element.procedureId === procedure.id)
        .map(({ structure, segment, state = '', distanceMm = null }) => ({
          structure,
          segment,
          state,
          distanceMm,
        })),
    })),
    recordings: entry.recordings.map((recording) => ({
      kind: coded(RECORDING_KINDS, recording.kind),
      startedOn: recording.startedOn,
      endedOn: recording.endedOn,
      durationMinutes: recording.durationMinutes ?? null,
      rhythm: coded(RHYTHMS, recording.rhythm),
      wholeTracing: recording.wholeTracing ?? false,
      longestEpisodeSeconds: recording.longestEpisodeSeconds ?? null,
      episodeStartedOn: recording.episodeStartedOn ?? null,
      episodeEndedOn: recording.episodeEndedOn ?? null,
      symptomatic: recording.symptomatic ?? null,
      source: recording.source,
    })),
    deviceDays: entry.deviceDays.map(({ day, device, burdenSeconds, longestEpisodeSeconds = null }) => ({
      day,
      device: coded(DEVICE_KINDS, device),
      burdenSeconds,
      longestEpisodeSeconds,
    })),
    drugEpisodes: entry.drugEpisodes.map(({ drug, startedOn, stoppedOn = null }) => ({
      drug,
      startedOn,
      stoppedOn,
    })),
    cardioversions: entry.cardioversions.map(({ performedOn }) => ({ performedOn })),
    visits: entry.visits.map(({ visitedOn, drugsReviewed = false }) => ({ visitedOn, drugsReviewed })),
  };
}

interface Row {
  readonly entry: BulkPatient;
  readonly patientIndex: number;
  readonly procedure: BulkPatient['procedures'][number];
  readonly baseline: BulkPatient['baselines'][number] | undefined;
  readonly timeline: CaseTimeline;
}

/** The generated lab as the columns that analysis reads, in the order of the patients. */
export function cohortOf(patients: readonly BulkPatient[]): Cohort {
  const rows = patients.flatMap((entry, patientIndex) =>
    timelinesOf(historyOf(entry)).map((timeline): Row => {
      const procedure = entry.procedures.find(({ id }) => id === timeline.procedureId);
      if (!procedure) throw new Error('a timeline without its procedure');
      const baseline = entry.baselines.find(({ procedureId }) => procedureId === procedure.id);
      return { entry, patientIndex, procedure, baseline, timeline };
    }),
  );
  const numbers = (value: (row: Row) => number | null | undefined) => rows.map((row) => value(row) ?? -1);
  const starts = [0];
  for (const { timeline } of rows) starts.push(starts[starts.length - 1] + timeline.evidence.length);
  return {
    dataVersion: '1',
    size: rows.length,
    procedureId: rows.map(({ procedure }) => procedure.id),
    patientId: rows.map(({ entry }) => entry.patient.id),
    patientCode: rows.map(({ entry }) => entry.patient.code),
    patientIndex: Int32Array.from(numbers(({ patientIndex }) => patientIndex)),
    performedOnDay: Int32Array.from(rows, ({ procedure }) =>
      toEpochDay(procedure.performedOn as CalendarDay),
    ),
    ordinal: Uint8Array.from(rows, ({ procedure }) => procedure.ordinal),
    daysToNext: Int32Array.from(numbers(({ timeline }) => timeline.daysToNext)),
    daysToDeath: Int32Array.from(numbers(({ timeline }) => timeline.daysToDeath)),
    daysToLastContact: Int32Array.from(numbers(({ timeline }) => timeline.daysToLastContact)),
    ageYears: Int16Array.from(numbers(({ procedure }) => procedure.ageYears)),
    laDiameterMm: Int16Array.from(numbers(({ baseline }) => baseline?.laDiameterMm)),
    lvefPct: Int16Array.from(numbers(({ baseline }) => baseline?.lvefPct)),
    structuralHeartDisease: Int8Array.from(
      rows.map(({ baseline }) => {
        const value = baseline?.structuralHeartDisease ?? null;
        return value === null ? -1 : Number(value);
      }),
    ),
    sex: column(rows.map(({ entry }) => entry.patient.sex)),
    afType: column(rows.map(({ baseline }) => baseline?.afType ?? '')),
    intendedStrategy: column(rows.map(({ procedure }) => procedure.intendedStrategy ?? '')),
    derivedStrategy: column(rows.map(({ timeline }) => timeline.derivedStrategy)),
    energy: column(rows.map(({ procedure }) => procedure.energy ?? '')),
    operator: column(rows.map(({ procedure }) => procedure.operatorId ?? '')),
    cohortTag: column(rows.map(() => '')),
    evidenceStart: Int32Array.from(starts),
    evidence: Int32Array.from(rows.flatMap(({ timeline }) => timeline.evidence)),
  };
}

function column(values: readonly string[]): CohortColumn {
  const codes = ['', ...new Set(values.filter((value) => value !== ''))];
  return { codes, index: Uint16Array.from(values, (value) => codes.indexOf(value)) };
}
