import 'server-only';
import type { StoredLesions } from '../../registry/forms/lesion-values';
import type { LesionElement } from '../../registry/lesion-set';
import type { RfApplication } from '../../registry/rf-applications';
import type * as Models from '../generated/client';

/** Keeps the reasons for unusual values of the lesion set apart from those of the procedure's form. */
export const KEPT_PREFIX = 'lesions';

/** A stored row as the rules of the trade read it. */
export function lesionElementOf(row: Models.LesionElement): LesionElement {
  const { labId: _lab, id: _id, procedureId: _procedure, version: _version, distanceMm, ...facts } = row;
  return { ...facts, distanceMm: distanceMm === null ? null : distanceMm.toNumber() };
}

/** A stored application as the rules of the trade read it. */
export function applicationOf(row: Models.RfApplication): RfApplication {
  const { labId: _lab, id: _id, procedureId: _procedure, number: _number, version: _version, ...facts } = row;
  const number = (decimal: Models.RfApplication['powerW']) => (decimal === null ? null : decimal.toNumber());
  return {
    ...facts,
    seconds: row.seconds.toNumber(),
    powerW: number(row.powerW),
    temperatureC: number(row.temperatureC),
  };
}

/** The lesion set of a procedure with its acute endpoint. */
export function storedLesionsOf(
  row: Models.Procedure,
  elements: readonly Models.LesionElement[],
): StoredLesions {
  return {
    veins: row.veins,
    measuredInRhythm: row.measuredInRhythm,
    entranceBlock: row.entranceBlock,
    exitBlock: row.exitBlock,
    waitingMinutes: row.waitingMinutes,
    drugChallenge: row.drugChallenge,
    drugChallengeResult: row.drugChallengeResult,
    settledStrategy: row.settledStrategy,
    elements: elements.map(lesionElementOf),
  };
}
