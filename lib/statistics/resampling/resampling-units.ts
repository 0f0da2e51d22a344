import type { Column } from '../check-input';
import { StatisticsError } from '../errors';
import type { RandomGenerator } from './generator';

/** The units that are drawn: single rows, or clusters of rows, within strata. */
export type ResamplingUnits = {
  /** Per stratum: the numbers of its units. */
  readonly strata: readonly (readonly number[])[];
  /** No draw holds more rows. */
  readonly mostRows: number;
  /** The rows of one draw, in the buffer given. */
  readonly draw: (generator: RandomGenerator, buffer: Int32Array) => Int32Array;
  /** All rows but those of one unit. */
  readonly without: (unit: number) => Int32Array;
};

/** Columns checked before, but not that clusters lie within strata. */
export function resamplingUnits(
  rows: number,
  strata: Column | undefined,
  cluster: Column | undefined,
): ResamplingUnits {
  const numberOf = new Map<number, number>();
  const members: number[][] = [];
  const home: number[] = [];
  for (let i = 0; i < rows; i += 1) {
    const name = cluster ? cluster[i] : i;
    const stratum = strata ? strata[i] : 0;
    const known = numberOf.get(name);
    if (known === undefined) {
      numberOf.set(name, members.length);
      members.push([i]);
      home.push(stratum);
    } else if (home[known] !== stratum) {
      const message = `cluster[${i}] is ${name}, which has rows in the strata ${home[known]} and ${stratum}; keep each cluster within one.`;
      throw new StatisticsError('outOfRange', 'cluster', i, message);
    } else members[known].push(i);
  }
  const byStratum = new Map<number, number[]>();
  for (const [unit, stratum] of home.entries()) {
    const units = byStratum.get(stratum);
    if (units) units.push(unit);
    else byStratum.set(stratum, [unit]);
  }
  const groups = [...byStratum.values()];
  const largest = (units: readonly number[]): number =>
    units.reduce((most, unit) => Math.max(most, members[unit].length), 0);
  return {
    strata: groups,
    mostRows: groups.reduce((sum, units) => sum + units.length * largest(units), 0),
    draw: (generator, buffer) => {
      let filled = 0;
      for (const units of groups) {
        for (let k = 0; k < units.length; k += 1) {
          for (const row of members[units[generator.below(units.length)]]) {
            buffer[filled] = row;
            filled += 1;
          }
        }
      }
      return buffer.subarray(0, filled);
    },
    without: (unit) => {
      const dropped = new Set(members[unit]);
      return Int32Array.from({ length: rows }, (_, i) => i).filter((i) => !dropped.has(i));
    },
  };
}
