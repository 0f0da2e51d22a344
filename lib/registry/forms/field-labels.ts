import { BASELINE_VARIABLES, PROCEDURE_VARIABLES, type Variable } from '../case-variables';
import { HARMS } from '../complications';

/** Words for the fields of each form by path: the forms print them, conflicts name them. */
export const PATIENT_LABELS = {
  birthYear: 'Birth year',
  sex: 'Sex',
  hospitalNumber: 'Hospital number',
  regionCode: 'Referring region',
  diedOn: 'Day of death',
  deathCause: 'Cause of death',
  deathRelated: 'Relation of death to the procedure',
  consentWithdrawnOn: 'Consent withdrawn on',
  transferredOn: 'Transferred on',
} as const;

type Labels<Variables> = { readonly [K in keyof Variables]: string };

function labelsOf<Variables extends Record<string, Variable>>(variables: Variables): Labels<Variables> {
  const entries = Object.entries(variables).map(([name, { label }]) => [name, label]);
  return Object.fromEntries(entries);
}

export const BASELINE_LABELS = labelsOf(BASELINE_VARIABLES);
const PROCEDURE_OWN = labelsOf(PROCEDURE_VARIABLES);

export const PROCEDURE_LABELS: Readonly<Record<string, string>> & typeof PROCEDURE_OWN = {
  ...PROCEDURE_OWN,
  ...Object.fromEntries(Object.entries(BASELINE_LABELS).map(([name, label]) => [`baseline.${name}`, label])),
};

export const RECORDING_LABELS = {
  kind: 'Kind of recording',
  startedOn: 'Started on',
  hours: 'Hours recorded',
  rhythm: 'Rhythm found',
  wholeTracing: 'Fills the whole tracing',
  longestEpisodeSeconds: 'Longest episode',
  episodeStartedOn: 'Episode started on',
  episodeEndedOn: 'Episode ended on',
  symptomatic: 'Symptoms during the episode',
  source: 'Tracing seen or reported',
} as const;

export const DRUG_LABELS = { drug: 'Drug', startedOn: 'Started on', stoppedOn: 'Last day taken' } as const;

const VISIT_OWN = {
  slot: 'Visit',
  visitedOn: 'Visit day',
  mode: 'Mode',
  rhythm: 'Rhythm now',
  symptoms: 'Symptoms',
  drugsReviewed: 'Drugs reviewed',
  anticoagulated: 'Anticoagulated',
  cardioversionKind: 'Cardioversion',
  cardioversionOn: 'Cardioversion on',
} as const;

const rowLabels = (list: string, row: string, labels: Readonly<Record<string, string>>) =>
  Array.from({ length: 20 }, (_, index) =>
    Object.entries(labels).map(([name, label]) => [
      `${list}.${index}.${name}`,
      `${row} ${index + 1}: ${label}`,
    ]),
  ).flat();

/** Rows are numbered as people count: "Recording 2: Rhythm found". */
export const VISIT_LABELS: Readonly<Record<string, string>> & typeof VISIT_OWN = {
  ...VISIT_OWN,
  ...Object.fromEntries(rowLabels('drugs', 'Drug', DRUG_LABELS)),
  ...Object.fromEntries(rowLabels('recordings', 'Recording', RECORDING_LABELS)),
};

const COMPLICATION_OWN = {
  type: 'Complication',
  onsetOn: 'Onset',
  harms: 'What it led to',
  severity: 'Severity',
  treatment: 'Treatment',
  outcome: 'Outcome',
  attribution: 'Put down to',
  resolvedOn: 'Resolved on',
} as const;

const HARM_LABELS = Object.fromEntries(HARMS.map(({ code, label }) => [`harms.${code}`, `Led to: ${label}`]));

export const COMPLICATION_LABELS: Readonly<Record<string, string>> & typeof COMPLICATION_OWN = {
  ...COMPLICATION_OWN,
  ...HARM_LABELS,
};

const ADJUDICATION_OWN = {
  verdict: 'Verdict',
  type: 'Complication, as adjudicated',
  onsetOn: 'Onset, as adjudicated',
  harms: 'What it led to, as adjudicated',
  severity: 'Severity, as adjudicated',
  seenReport: 'What was reported',
} as const;

export const ADJUDICATION_LABELS: Readonly<Record<string, string>> & typeof ADJUDICATION_OWN = {
  ...ADJUDICATION_OWN,
  ...HARM_LABELS,
};

export const READMISSION_LABELS = {
  admittedOn: 'Admitted on',
  dischargedOn: 'Discharged on',
  cause: 'Cause of the readmission',
} as const;

export const VOID_LABELS = { reason: 'Why the entry is void' } as const;

export const SLOT_LABELS = {
  kind: 'Kind of contact',
  amount: 'Due after',
  unit: 'Counted in',
  windowBeforeDays: 'Window before',
  windowAfterDays: 'Window after',
  evidence: 'Evidence needed',
} as const;

export const SCHEDULE_LABELS = {
  scope: 'For',
  effectiveOn: 'Takes effect on',
  course: 'From then on holds',
} as const;
