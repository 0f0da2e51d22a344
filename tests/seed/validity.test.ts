import { describe, expect, it } from 'vitest';
import type { BulkPatient } from '@/lib/records/bulk-load';
import { calendarDay } from '@/lib/registry/calendar-day';
import { COMPLICATION_TYPES, isUsualOnset } from '@/lib/registry/complications';
import type { Finding } from '@/lib/registry/findings';
import { findingsOfZod } from '@/lib/registry/findings';
import { DEFAULT_SLOTS, planOf } from '@/lib/registry/follow-up-schedule';
import { checkComplicationAgainstCase } from '@/lib/registry/forms/complication-checks';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { complicationFormSchema } from '@/lib/registry/forms/complication-form';
import { checkPatientAgainstHistory } from '@/lib/registry/forms/patient-checks';
import { emptyPatientForm, patientFormSchema } from '@/lib/registry/forms/patient-form';
import { checkProcedureAgainstPatient } from '@/lib/registry/forms/procedure-checks';
import { fluoroscopyMinutesOf, procedureFormSchema } from '@/lib/registry/forms/procedure-form';
import { checkReadmissionAgainstCase, readmissionFormSchema } from '@/lib/registry/forms/readmission-form';
import { checkVisitAgainstCase } from '@/lib/registry/forms/visit-checks';
import { doOverlap, emptyVisitForm, visitFormSchema } from '@/lib/registry/forms/visit-form';
import { ELEMENT_STATES, isSegmentOf, kindOfStructure, VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { isPatientCode } from '@/lib/registry/patient-code';
import { DATABASE_CHECKS } from './database-checks';
import { ANCHOR, demoLab } from './demo-lab';

const lab = demoLab();

/** Every refusal that a form would give; warnings are allowed, real labs have odd values. */
function refusalsOf(entry: BulkPatient): string[] {
  const found = [...patientFindings(entry)];
  entry.procedures.forEach((_, index) => {
    found.push(...procedureFindings(entry, index), ...visitFindings(entry, index));
    found.push(...complicationFindings(entry, index), ...readmissionFindings(entry, index));
  });
  return found.filter(({ kind }) => kind === 'refusal').map(({ field, message }) => `${field}: ${message}`);
}

function patientFindings({ patient, procedures, visits, recordings }: BulkPatient): Finding[] {
  const form = patientFormSchema.safeParse({
    ...emptyPatientForm,
    birthYear: patient.birthYear,
    sex: patient.sex,
    diedOn: patient.diedOn ?? null,
    deathCause: patient.deathCause ?? null,
    deathRelated: patient.deathRelated ?? null,
    consentWithdrawnOn: patient.consentWithdrawnOn ?? null,
    transferredOn: patient.transferredOn ?? null,
  });
  if (!form.success) return findingsOfZod(form.error);
  const seen = [
    ...visits.map(({ visitedOn }) => visitedOn),
    ...recordings.map(({ endedOn }) => endedOn),
    ...procedures.map(({ performedOn }) => performedOn),
  ].sort();
  return checkPatientAgainstHistory(form.data, {
    today: ANCHOR,
    procedures: procedures.map(({ performedOn, ageYears = null }) => ({ performedOn, ageYears })),
    lastSeenOn: seen.at(-1) ?? null,
  });
}

function procedureFindings({ patient, procedures, baselines }: BulkPatient, index: number): Finding[] {
  const procedure = procedures[index];
  const baseline = baselines.find(({ procedureId }) => procedureId === procedure.id);
  if (!baseline) throw new Error('a procedure without a baseline');
  const { procedureId: _own, ...values } = baseline;
  const form = procedureFormSchema.safeParse({
    performedOn: procedure.performedOn,
    ageYears: procedure.ageYears ?? null,
    operatorId: procedure.operatorId ?? null,
    energy: procedure.energy ?? null,
    steering: procedure.steering ?? null,
    intendedStrategy: procedure.intendedStrategy ?? null,
    procedureMinutes: procedure.procedureMinutes ?? null,
    fluoroscopyMinutes: fluoroscopyMinutesOf(procedure.fluoroscopySeconds ?? null),
    baseline: values,
  });
  if (!form.success) return findingsOfZod(form.error);
  return checkProcedureAgainstPatient(form.data, {
    birthYear: patient.birthYear,
    today: ANCHOR,
    diedOn: patient.diedOn ?? null,
    earlierProcedures: procedures.slice(0, index),
    nextPerformedOn: procedures[index + 1]?.performedOn ?? null,
  });
}

function visitFindings({ patient, procedures, visits, recordings }: BulkPatient, index: number): Finding[] {
  const procedure = procedures[index];
  return visits
    .filter(({ procedureId }) => procedureId === procedure.id)
    .flatMap((visit) => {
      const form = visitFormSchema.safeParse({
        ...emptyVisitForm,
        slot: visit.slot,
        visitedOn: visit.visitedOn,
        mode: visit.mode,
        rhythm: visit.rhythm ?? null,
        symptoms: visit.symptoms ?? null,
        drugsReviewed: visit.drugsReviewed ?? false,
        anticoagulated: visit.anticoagulated ?? null,
        recordings: recordings
          .filter(({ visitId }) => visitId === visit.id)
          .map((recording) => ({
            kind: recording.kind,
            startedOn: recording.startedOn,
            hours: recording.durationMinutes ? recording.durationMinutes / 60 : null,
            rhythm: recording.rhythm,
            wholeTracing: recording.wholeTracing ?? false,
            longestEpisodeSeconds: recording.longestEpisodeSeconds ?? null,
            episodeStartedOn: recording.episodeStartedOn ?? null,
            episodeEndedOn: recording.episodeEndedOn ?? null,
            symptomatic: recording.symptomatic ?? null,
            source: recording.source,
          })),
      });
      if (!form.success) return findingsOfZod(form.error);
      return checkVisitAgainstCase(form.data, {
        performedOn: procedure.performedOn,
        today: ANCHOR,
        diedOn: patient.diedOn ?? null,
        nextPerformedOn: procedures[index + 1]?.performedOn ?? null,
        plan: planOf(procedure.performedOn, DEFAULT_SLOTS),
      });
    });
}

function complicationFindings({ patient, procedures, complications }: BulkPatient, index: number): Finding[] {
  const procedure = procedures[index];
  return complications
    .filter(({ procedureId }) => procedureId === procedure.id)
    .flatMap((one) => {
      const { type, onsetOn, severity, harms = [] } = one;
      const { treatment = null, outcome = null, attribution = null, resolvedOn = null } = one;
      const course = { treatment, outcome, attribution, resolvedOn };
      const form = complicationFormSchema.safeParse({
        type,
        onsetOn,
        severity,
        harms: harmTicks(harms),
        ...course,
      });
      if (!form.success) return findingsOfZod(form.error);
      return checkComplicationAgainstCase(form.data, {
        ...placeOf(patient, procedures, index),
        others: [],
        judgedReport: null,
      });
    });
}

function readmissionFindings({ patient, procedures, readmissions }: BulkPatient, index: number): Finding[] {
  const procedure = procedures[index];
  const own = readmissions.filter(({ procedureId }) => procedureId === procedure.id);
  return own.flatMap((stay) => {
    const { admittedOn, dischargedOn = null, cause } = stay;
    const form = readmissionFormSchema.safeParse({ admittedOn, dischargedOn, cause });
    if (!form.success) return findingsOfZod(form.error);
    return checkReadmissionAgainstCase(form.data, {
      ...placeOf(patient, procedures, index),
      dischargedOn: procedure.dischargedOn ?? null,
      others: own
        .filter((other) => other !== stay)
        .map((other) => ({ admittedOn: other.admittedOn, dischargedOn: other.dischargedOn ?? null })),
      hasComplication: true,
    });
  });
}

const placeOf = (patient: BulkPatient['patient'], procedures: BulkPatient['procedures'], index: number) => ({
  performedOn: procedures[index].performedOn,
  today: ANCHOR,
  diedOn: patient.diedOn ?? null,
  nextPerformedOn: procedures[index + 1]?.performedOn ?? null,
});

describe('the rows of the demo lab', () => {
  it.each(DATABASE_CHECKS)('%s', (_name, holds) => {
    expect(lab.filter((entry) => !holds(entry)).map(({ patient }) => patient.code)).toEqual([]);
  });

  it('would be accepted by every form, field by field', () => {
    expect(lab.flatMap(refusalsOf)).toEqual([]);
  });

  it('would be noticed by the forms when spoilt', () => {
    const [first] = lab;
    const spoilt = (change: Partial<BulkPatient>) => refusalsOf({ ...first, ...change });
    expect(spoilt({ patient: { ...first.patient, birthYear: first.patient.birthYear + 5 } })).not.toEqual([]);
    const late = first.visits.map((visit) => ({ ...visit, visitedOn: calendarDay('2030-01-01') }));
    expect(spoilt({ visits: late })).not.toEqual([]);
    const permanent = first.baselines.map((baseline) => ({ ...baseline, afType: 'permanent' }));
    expect(spoilt({ baselines: permanent })).not.toEqual([]);
    const harmed = lab.find(({ complications }) => complications.length > 0);
    if (!harmed) throw new Error('a lab without a complication');
    const early = harmed.complications.map((one) => ({ ...one, onsetOn: calendarDay('2001-01-01') }));
    expect(refusalsOf({ ...harmed, complications: early })).not.toEqual([]);
  });

  it('fits its birth years at other anchors too', () => {
    for (const text of ['2027-01-04', '2028-03-01']) {
      const moved = demoLab(calendarDay(text));
      const findings = moved.flatMap(({ patient, procedures }) =>
        procedures.filter(({ performedOn, ageYears }) => {
          const older = Number(performedOn.slice(0, 4)) - patient.birthYear;
          return typeof ageYears === 'number' && ageYears !== older && ageYears !== older - 1;
        }),
      );
      expect(findings).toEqual([]);
    }
  });

  it('carries patient codes whose check character is right', () => {
    expect(lab.filter(({ patient }) => !isPatientCode(patient.code))).toEqual([]);
  });

  it('uses only structures, segments, states and complications that the registry knows', () => {
    const elements = lab.flatMap(({ lesionElements }) => lesionElements);
    expect(elements.filter(({ structure, segment }) => !isSegmentOf(structure, segment))).toEqual([]);
    expect(elements.filter(({ state }) => !ELEMENT_STATES.some(({ code }) => code === state))).toEqual([]);
    const veins = lab.flatMap(({ procedures }) => procedures.flatMap((one) => one.veins ?? []));
    expect(veins.filter((vein) => !VEIN_RINGS.some(({ code }) => code === vein))).toEqual([]);
    for (const { type, onsetOn, procedurePerformedOn } of lab.flatMap(({ complications }) => complications)) {
      const known = COMPLICATION_TYPES.find(({ code }) => code === type);
      expect(known).toBeDefined();
      const days = (Date.parse(onsetOn) - Date.parse(procedurePerformedOn)) / 86_400_000;
      if (known) expect(isUsualOnset(known.code, days)).toBe(true);
    }
  });

  it('records distances on rings only and block on lines only', () => {
    for (const one of lab.flatMap(({ lesionElements }) => lesionElements)) {
      const isLine = kindOfStructure(one.structure) === 'line';
      if (isLine) expect(one.distanceMm ?? null).toBeNull();
      else expect(one.block ?? null).toBeNull();
    }
  });

  it('never lets two episodes of one drug overlap', () => {
    for (const { drugEpisodes } of lab) {
      const plain = drugEpisodes.map(({ drug, startedOn, stoppedOn = null }) => ({
        drug,
        startedOn,
        stoppedOn,
      }));
      const clashes = plain.filter((a, i) =>
        plain.some((b, j) => j > i && a.drug === b.drug && doOverlap(a, b)),
      );
      expect(clashes).toEqual([]);
    }
  });
});
