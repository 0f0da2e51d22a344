import 'server-only';
import { VERDICTS, type Verdict } from '../registry/complication-vocabulary';
import {
  COMPLICATION_TYPES,
  type ComplicationCode,
  HARMS,
  type Harm,
  SEVERITIES,
  type Severity,
} from '../registry/complications';
import type { LesionFacts } from '../registry/derived-strategy';
import { DEVICE_KINDS, type DeviceDay } from '../registry/device-days';
import {
  ENERGIES,
  type Energy,
  RECORDING_KINDS,
  type RecordingKind,
  RHYTHMS,
  type Rhythm,
  type Term,
} from '../registry/vocabulary';
import { dayFromDate } from './day-edge';
import type { DeviceDay as DeviceDayRow, LesionElement } from './generated/client';

/** A stored code as a word of the vocabulary; a code that the vocabulary has lost is a defect, not a default. */
export function decodeCode<Code extends string>(list: readonly Term<Code>[], code: string): Code {
  const term = list.find((candidate) => candidate.code === code);
  if (!term) throw new Error(`stored code without an entry in the vocabulary: ${code}`);
  return term.code;
}

/** The same for a column that may be empty. */
export const decodeOrNull = <Code extends string>(
  list: readonly Term<Code>[],
  code: string | null,
): Code | null => (code === null ? null : decodeCode(list, code));

export const decodeEnergy = (code: string | null): Energy | null =>
  code === null ? null : decodeCode(ENERGIES, code);
export const decodeKind = (code: string): RecordingKind => decodeCode(RECORDING_KINDS, code);
export const decodeRhythm = (code: string): Rhythm => decodeCode(RHYTHMS, code);
export const decodeComplication = (code: string): ComplicationCode => decodeCode(COMPLICATION_TYPES, code);
export const decodeSeverity = (code: string): Severity => decodeCode(SEVERITIES, code);
export const decodeVerdict = (code: string): Verdict => decodeCode(VERDICTS, code);
export const decodeHarms = (codes: readonly string[]): Harm[] => codes.map((code) => decodeCode(HARMS, code));

export function decodeLesion(element: LesionElement): LesionFacts {
  return {
    structure: element.structure,
    segment: element.segment,
    state: element.state,
    distanceMm: element.distanceMm === null ? null : element.distanceMm.toNumber(),
  };
}

export function decodeDeviceDay(row: DeviceDayRow): DeviceDay {
  return {
    day: dayFromDate(row.day),
    device: decodeCode(DEVICE_KINDS, row.device),
    burdenSeconds: row.burdenSeconds,
    longestEpisodeSeconds: row.longestEpisodeSeconds,
  };
}
