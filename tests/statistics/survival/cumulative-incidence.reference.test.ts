import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  type CumulativeIncidence,
  estimateCumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  type IncidenceLimits,
  incidenceAt,
} from '@/lib/statistics';
import { codesOf, differences, loadCases, referenceNumber, type Tolerance } from '../reference-cases';

const column = z.array(referenceNumber);
const causeShape = z.object({
  cif: column,
  stdErr: column,
  nEvent: column,
  atTimes: z.object({
    time: z.array(z.number()),
    cif: column,
    stdErr: column,
    lowerPlain: column,
    upperPlain: column,
    lowerLog: column,
    upperLog: column,
    lowerCloglog: column,
    upperCloglog: column,
    varDeltaMarubiniValsecchi: column.optional(),
  }),
});
type ExpectedCause = z.infer<typeof causeShape>;
const groupShape = z.looseObject({ n: z.number(), time: column, nRisk: column, eventFree: column });
const label = z.union([z.string(), z.number()]);
const dataShape = z.object({
  time: z.array(z.number()),
  status: z.array(z.number()),
  group: z.array(label).optional(),
});

const SCALES = [
  { limits: 'plain', lower: 'lowerPlain', upper: 'upperPlain' },
  { limits: 'log', lower: 'lowerLog', upper: 'upperLog' },
  { limits: 'log-log', lower: 'lowerCloglog', upper: 'upperCloglog' },
] as const;

function estimatesOf(
  rows: z.infer<typeof dataShape>,
  names: readonly string[],
  limits: IncidenceLimits,
): CumulativeIncidence[] {
  const data = { timeDays: rows.time, status: rows.status };
  if (!rows.group) return [estimateCumulativeIncidence(data, { limits })];
  return estimateCumulativeIncidenceByGroup({ ...data, group: codesOf(rows.group, names) }, { limits });
}

function compareLimits(
  estimate: CumulativeIncidence,
  cause: number,
  { atTimes }: ExpectedCause,
  tolerance: Tolerance,
): string[] {
  const keys = SCALES.find((scale) => scale.limits === estimate.limits) ?? SCALES[0];
  return incidenceAt(estimate, cause, atTimes.time).flatMap((point, i) => {
    const where = `cause ${cause} at ${atTimes.time[i]} (${estimate.limits})`;
    if (point.kind !== 'estimated') return [`${where}: ${point.reason}`];
    const { interval } = point;
    const value = differences(where, [point.incidence], [atTimes.cif[i]], tolerance);
    if (interval.kind !== 'estimated') {
      return point.incidence === 0 || point.incidence === 1 ? value : [`${where}: ${interval.reason}`];
    }
    const got = [interval.standardError, interval.lower, interval.upper];
    return [
      ...value,
      ...differences(
        where,
        got,
        [atTimes.stdErr[i], atTimes[keys.lower][i], atTimes[keys.upper][i]],
        tolerance,
      ),
      ...(atTimes.varDeltaMarubiniValsecchi
        ? differences(
            `${where} delta variance`,
            [interval.standardError ** 2],
            [atTimes.varDeltaMarubiniValsecchi[i]],
            tolerance,
          )
        : []),
    ];
  });
}

describe.each(loadCases('cumulative_incidence', z.looseObject({})))('$id ($rCall)', (reference) => {
  it.each(SCALES)('agrees on incidence, standard error and $limits limits', ({ limits }) => {
    const { tolerance } = reference;
    const { groups } = z.object({ groups: z.record(z.string(), groupShape) }).parse(reference.expected);
    const names = Object.keys(groups);
    const estimates = estimatesOf(dataShape.parse(reference.data), names, limits);
    expect(estimates).toHaveLength(names.length);
    const wrong = names.flatMap((name, g) => {
      const expected = groups[name];
      const estimate = estimates[g];
      return [
        ...differences('n', [estimate.n], [expected.n], tolerance),
        ...differences('time', estimate.timeDays, expected.time, tolerance),
        ...differences('at risk', estimate.atRisk, expected.nRisk, tolerance),
        ...differences('event-free', estimate.eventFree, expected.eventFree, tolerance),
        ...estimate.causes.flatMap(({ cause, incidence, standardError, events }) => {
          const want = causeShape.parse(expected[`cause_${cause}`]);
          return [
            ...differences(`incidence ${cause}`, incidence, want.cif, tolerance),
            ...differences(`standard error ${cause}`, standardError, want.stdErr, tolerance),
            ...differences(`events ${cause}`, events, want.nEvent, tolerance),
            ...compareLimits(estimate, cause, want, tolerance),
          ];
        }),
      ];
    });
    expect(wrong).toEqual([]);
  });
});
