import { createHash, randomUUID } from 'node:crypto';
import type { ComplicationFacts } from '@/lib/registry/complication-standing';
import {
  type AdjudicationInput,
  adjudicationSchema,
  reportText,
} from '@/lib/registry/forms/adjudication-form';
import { factsFormValues } from '@/lib/registry/forms/complication-entries';
import {
  type ComplicationFormInput,
  complicationFormSchema,
  emptyComplicationForm,
} from '@/lib/registry/forms/complication-form';
import { emptyPatientForm, patientFormSchema } from '@/lib/registry/forms/patient-form';
import { emptyProcedureForm, procedureFormSchema } from '@/lib/registry/forms/procedure-form';
import { type ReadmissionFormInput, readmissionFormSchema } from '@/lib/registry/forms/readmission-form';
import { emptyRecording } from '@/lib/registry/forms/recording-entries';
import { emptyVisitForm, type VisitFormInput, visitFormSchema } from '@/lib/registry/forms/visit-form';

/** Entries as a person types them, already parsed by the form's own schema. */
export const key = (typed = '') => ({
  key: randomUUID(),
  valuesHash: new Uint8Array(createHash('sha256').update(typed).digest()),
});

export const typedPatient = (typed: Partial<typeof emptyPatientForm> = {}) =>
  patientFormSchema.parse({ ...emptyPatientForm, birthYear: '1960', sex: 'female', ...typed });

export const typedProcedure = (performedOn: string, typed: Partial<Record<string, unknown>> = {}) =>
  procedureFormSchema.parse({
    ...emptyProcedureForm,
    performedOn,
    ageYears: '63',
    energy: 'radiofrequency',
    intendedStrategy: 'wide-encircling',
    ...typed,
  });

export const typedEcg = (startedOn: string, rhythm = 'sinus') => ({
  ...emptyRecording,
  kind: 'ecg',
  startedOn,
  rhythm,
  wholeTracing: rhythm !== 'sinus',
  source: 'seen',
});

export const typedVisit = (slot: string, visitedOn: string, typed: Partial<VisitFormInput> = {}) =>
  visitFormSchema.parse({
    ...emptyVisitForm,
    slot,
    visitedOn,
    mode: 'clinic',
    drugsReviewed: true,
    ...typed,
  });

export const typedComplication = (
  type: string,
  onsetOn: string,
  typed: Partial<ComplicationFormInput> = {},
) => complicationFormSchema.parse({ ...emptyComplicationForm, type, onsetOn, ...typed });

export const typedVerdict = (report: ComplicationFacts, typed: Partial<AdjudicationInput>) =>
  adjudicationSchema.parse({
    ...factsFormValues(report),
    seenReport: reportText(report),
    reason: '',
    version: 1,
    ...typed,
  });

export const typedReadmission = (admittedOn: string, typed: Partial<ReadmissionFormInput> = {}) =>
  readmissionFormSchema.parse({ admittedOn, dischargedOn: '', cause: 'arrhythmia', ...typed });
