import 'server-only';
import { fluoroscopyMinutesOf, type ProcedureFormInput } from '../../registry/forms/procedure-form';
import { dayFromDate } from '../day-edge';
import type { Baseline, Procedure } from '../generated/client';

const text = (value: { toString(): string } | null | undefined): string => value?.toString() ?? '';
const yesNo = (value: boolean | null | undefined): string =>
  value === true ? 'yes' : value === false ? 'no' : '';

/** A stored procedure with its baseline as the form holds it. */
export function procedureFormValues(row: Procedure, baseline: Baseline | null) {
  return {
    performedOn: dayFromDate(row.performedOn),
    ageYears: text(row.ageYears),
    operatorId: text(row.operatorId),
    energy: text(row.energy),
    steering: text(row.steering),
    intendedStrategy: text(row.intendedStrategy),
    procedureMinutes: text(row.procedureMinutes),
    fluoroscopyMinutes: text(fluoroscopyMinutesOf(row.fluoroscopySeconds)),
    baseline: {
      afType: text(baseline?.afType),
      longestEpisodeDays: text(baseline?.longestEpisodeDays),
      episodeEnding: text(baseline?.episodeEnding),
      afSinceYear: text(baseline?.afSinceYear),
      symptomScore: text(baseline?.symptomScore),
      laDiameterMm: text(baseline?.laDiameterMm),
      laVolumeIndexMlM2: text(baseline?.laVolumeIndexMlM2),
      lvefPct: text(baseline?.lvefPct),
      bmiKgM2: text(baseline?.bmiKgM2),
      egfrMlMin173m2: text(baseline?.egfrMlMin173m2),
      structuralHeartDisease: yesNo(baseline?.structuralHeartDisease),
      heartFailure: yesNo(baseline?.heartFailure),
      hypertension: yesNo(baseline?.hypertension),
      diabetes: yesNo(baseline?.diabetes),
      strokeHistory: yesNo(baseline?.strokeHistory),
      vascularDisease: yesNo(baseline?.vascularDisease),
      coronaryDisease: yesNo(baseline?.coronaryDisease),
      copd: yesNo(baseline?.copd),
      sleepApnoea: yesNo(baseline?.sleepApnoea),
      smoker: yesNo(baseline?.smoker),
      priorCardioversions: text(baseline?.priorCardioversions),
      failedAntiarrhythmics: text(baseline?.failedAntiarrhythmics),
    },
  } satisfies ProcedureFormInput;
}

/** The same values by path, as conflicts name them: 'baseline.laDiameterMm'. */
export function procedureValuesByPath(row: Procedure, baseline: Baseline | null): Record<string, string> {
  const { baseline: before, ...own } = procedureFormValues(row, baseline);
  const inner = Object.entries(before).map(([name, value]) => [`baseline.${name}`, value]);
  return { ...own, ...Object.fromEntries(inner) };
}
