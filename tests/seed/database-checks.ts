import type { BulkPatient } from '@/lib/records/bulk-load';

/** A check of prisma/migrations by its name, on one patient's rows; true when it holds. Nulls pass, as in SQL. */
type Check = readonly [name: string, holds: (entry: BulkPatient) => boolean];

type Amount = number | null | undefined;
const between = (value: Amount, low: number, high: number): boolean =>
  value === null || value === undefined || (value >= low && value <= high);
const ordered = (earlier: string | null | undefined, later: string | null | undefined): boolean =>
  !earlier || !later || earlier <= later;

/** What must never be, written a second time in plain code, so that a load that the database would refuse fails here first. */
export const DATABASE_CHECKS: readonly Check[] = [
  ['patients_code_shape', ({ patient }) => /^P-[0-9A-Z]{4,8}-[0-9A-Z]$/.test(patient.code)],
  ['patients_birth_year_possible', ({ patient }) => between(patient.birthYear, 1890, 2100)],
  ['patients_sex_known', ({ patient }) => ['female', 'male', 'unknown'].includes(patient.sex)],
  [
    'patients_death_has_day',
    ({ patient }) => Boolean(patient.diedOn) || (!patient.deathCause && !patient.deathRelated),
  ],
  [
    'procedures_ordinal_counts_from_one',
    ({ procedures }) => procedures.every(({ ordinal }, index) => ordinal === index + 1 && ordinal <= 20),
  ],
  [
    'procedures_age_possible',
    ({ procedures }) => procedures.every(({ ageYears }) => between(ageYears, 0, 120)),
  ],
  [
    'procedures_discharge_not_before',
    ({ procedures }) => procedures.every((one) => ordered(one.performedOn, one.dischargedOn)),
  ],
  [
    'procedures_minutes_possible',
    ({ procedures }) => procedures.every((one) => between(one.procedureMinutes, 1, 1440)),
  ],
  [
    'procedures_fluoroscopy_possible',
    ({ procedures }) => procedures.every((one) => between(one.fluoroscopySeconds, 0, 86_400)),
  ],
  [
    'procedures_dose_possible',
    ({ procedures }) => procedures.every((one) => between(one.dapGyCm2, 0, 999_999.99)),
  ],
  [
    'baselines_af_type_treatable',
    ({ baselines }) =>
      baselines.every(
        ({ afType }) =>
          !afType ||
          ['paroxysmal', 'early-persistent', 'persistent', 'long-standing-persistent'].includes(afType),
      ),
  ],
  [
    'baselines_numbers_possible',
    ({ baselines }) =>
      baselines.every(
        (one) =>
          between(one.longestEpisodeDays, 0, 36_500) &&
          between(one.laDiameterMm, 10, 120) &&
          between(one.laVolumeIndexMlM2, 5, 300) &&
          between(one.lvefPct, 5, 90) &&
          between(one.bmiKgM2, 10, 90) &&
          between(one.egfrMlMin173m2, 1, 200) &&
          between(one.priorCardioversions, 0, 99) &&
          between(one.failedAntiarrhythmics, 0, 20),
      ),
  ],
  [
    'lesion_elements_reason_when_not_applicable',
    ({ lesionElements }) => lesionElements.every((one) => one.state !== 'not-applicable' || one.stateReason),
  ],
  [
    'lesion_elements_possible',
    ({ lesionElements }) =>
      lesionElements.every(
        (one) =>
          between(one.distanceMm, 0, 60) &&
          between(one.amplitudeBeforeUv, 0, 20_000) &&
          between(one.amplitudeAfterUv, 0, 20_000) &&
          (one.longestSeconds ?? 0) <= (one.totalSeconds ?? 0),
      ),
  ],
  [
    'lesion_elements_unique',
    ({ lesionElements }) =>
      isUnique(lesionElements.map((one) => [one.procedureId, one.structure, one.segment].join())),
  ],
  [
    'complications_in_order',
    ({ complications }) =>
      complications.every(
        (one) => ordered(one.procedurePerformedOn, one.onsetOn) && ordered(one.onsetOn, one.resolvedOn),
      ),
  ],
  [
    'complications_severity_known',
    ({ complications }) => complications.every(({ severity }) => ['major', 'minor'].includes(severity)),
  ],
  [
    'complications_two_people',
    ({ complications }) =>
      complications.every((one) => !one.adjudicatedById || one.adjudicatedById !== one.reportedById),
  ],
  [
    'complications_verdict_has_its_day_and_facts',
    ({ complications }) =>
      complications.every((one) => {
        const facts = [one.adjudicatedType, one.adjudicatedSeverity, one.adjudicatedOnsetOn];
        const hasFacts = ['confirmed', 'reclassified'].includes(one.adjudicatedVerdict ?? '');
        return (
          Boolean(one.adjudicatedVerdict) === Boolean(one.adjudicatedAt) &&
          facts.every((fact) => Boolean(fact) === hasFacts)
        );
      }),
  ],
  [
    'readmissions_in_order',
    ({ readmissions }) =>
      readmissions.every(
        (one) =>
          ordered(one.procedurePerformedOn, one.admittedOn) && ordered(one.admittedOn, one.dischargedOn),
      ),
  ],
  [
    'follow_up_visits_not_before_procedure',
    ({ visits, procedures }) =>
      visits.every(
        (one) =>
          ordered(one.procedurePerformedOn, one.visitedOn) &&
          procedures.some(
            ({ id, performedOn }) => id === one.procedureId && performedOn === one.procedurePerformedOn,
          ),
      ),
  ],
  [
    'follow_up_visits_unique',
    ({ visits }) => isUnique(visits.map((one) => [one.procedureId, one.slot, one.visitedOn].join())),
  ],
  [
    'recordings_in_order',
    ({ recordings }) =>
      recordings.every(
        (one) =>
          ordered(one.startedOn, one.endedOn) &&
          ordered(one.episodeStartedOn, one.episodeEndedOn) &&
          (Boolean(one.episodeStartedOn) || !one.episodeEndedOn) &&
          ordered(one.startedOn, one.episodeStartedOn) &&
          ordered(one.episodeEndedOn ?? one.episodeStartedOn, one.endedOn),
      ),
  ],
  [
    'recordings_amounts_possible',
    ({ recordings }) =>
      recordings.every(
        (one) => between(one.durationMinutes, 0, 2 ** 31) && between(one.longestEpisodeSeconds, 0, 2 ** 31),
      ),
  ],
  [
    'recordings_belong_to_a_visit_of_the_patient',
    ({ recordings, visits }) =>
      recordings.every((one) => !one.visitId || visits.some(({ id }) => id === one.visitId)),
  ],
  [
    'drug_episodes_stop_not_before_start',
    ({ drugEpisodes }) => drugEpisodes.every((one) => ordered(one.startedOn, one.stoppedOn)),
  ],
  [
    'nothing_after_death',
    ({ patient, procedures, visits, recordings }) =>
      [
        ...procedures.map(({ performedOn }) => performedOn),
        ...visits.map(({ visitedOn }) => visitedOn),
        ...recordings.map(({ endedOn }) => endedOn),
      ].every((day) => ordered(day, patient.diedOn)),
  ],
];

const isUnique = (keys: readonly string[]): boolean => new Set(keys).size === keys.length;
