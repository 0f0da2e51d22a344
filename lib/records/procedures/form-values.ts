import 'server-only';
import { BASELINE_CONDITIONS } from '../../registry/forms/baseline-entries';
import { fluoroscopyMinutesOf, type ProcedureFormInput } from '../../registry/forms/procedure-form';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import type { Baseline, KeptValue, Procedure } from '../generated/client';

const text = (value: { toString(): string } | null | undefined): string => value?.toString() ?? '';
const yesNo = (value: boolean | null | undefined): string =>
  value === true ? 'yes' : value === false ? 'no' : '';

const PROCEDURE_TEXTS = [
  'ageYears',
  'operatorId',
  'indication',
  'energy',
  'deviceType',
  'deviceLot',
  'steering',
  'imaging',
  'anaesthesia',
  'thrombusExclusion',
  'anticoagulation',
  'intendedStrategy',
  'abortedReason',
  'rhythmAtStart',
  'rhythmAtEnd',
  'procedureMinutes',
  'leftAtrialMinutes',
  'dapGyCm2',
  'airKermaMgy',
  'heparinUnits',
  'lowestActS',
] as const;

const BASELINE_TEXTS = [
  'afType',
  'longestEpisodeDays',
  'episodeEnding',
  'afSinceYear',
  'symptomScore',
  'legalBasis',
  'laDiameterMm',
  'laVolumeIndexMlM2',
  'laAreaIndexCm2M2',
  'lvefPct',
  'bmiKgM2',
  'egfrMlMin173m2',
  'priorCardioversions',
  'failedAntiarrhythmics',
  'qualityInstrument',
  'qualityScore',
] as const;

/** A stored procedure with its baseline as the form holds it. */
export function procedureFormValues(
  row: Procedure,
  baseline: Baseline | null,
  kept: readonly Pick<KeptValue, 'field' | 'reason'>[] = [],
): ProcedureFormInput {
  return {
    ...Object.fromEntries(PROCEDURE_TEXTS.map((name) => [name, text(row[name])])),
    performedOn: dayFromDate(row.performedOn),
    dischargedOn: text(dayFromDateOrNull(row.dischargedOn)),
    fluoroscopyMinutes: text(fluoroscopyMinutesOf(row.fluoroscopySeconds)),
    baseline: {
      ...Object.fromEntries(BASELINE_TEXTS.map((name) => [name, text(baseline?.[name])])),
      ...Object.fromEntries(BASELINE_CONDITIONS.map((name) => [name, yesNo(baseline?.[name])])),
      drugs: baseline?.drugs ?? [],
    },
    kept: kept.map(({ field, reason }) => ({ field, reason })),
  };
}

/** The same values by path, as conflicts name them: 'baseline.laDiameterMm'. */
export function procedureValuesByPath(row: Procedure, baseline: Baseline | null): Record<string, string> {
  const { baseline: before, kept: _reasons, ...own } = procedureFormValues(row, baseline);
  const inner = Object.entries(before).map(([name, value]) => [`baseline.${name}`, textOfValue(value)]);
  const outer = Object.entries(own).map(([name, value]) => [name, textOfValue(value)]);
  return Object.fromEntries([...outer, ...inner]);
}

const textOfValue = (value: unknown): string =>
  Array.isArray(value) ? value.join(', ') : value === null || value === undefined ? '' : String(value);
