import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { estimateNelsonAalen } from '@/lib/statistics';
import { differences, loadCases, referenceNumber } from '../reference-cases';

const column = z.array(referenceNumber);
const limits = z.object({ lower: column, upper: column });
const shape = z.object({
  data: z.object({ time: z.array(z.number()), status: z.array(z.number()) }),
  expected: z.object({
    time: column,
    nRisk: column,
    nEvent: column,
    cumHaz: column,
    stdErr: column,
    varBinomialKlein: column,
    ciPlain: limits,
    ciLog: limits,
    cumHazFlemingHarrington: column,
    stdErrFlemingHarrington: column,
    survBreslow: column,
    survFlemingHarrington: column,
  }),
});

describe.each(loadCases('nelson_aalen', shape))('$id ($rCall)', ({ data, expected, tolerance }) => {
  const rows = { timeDays: data.time, event: data.status };

  it('agrees on the hazard, its standard error and limits', () => {
    const curve = estimateNelsonAalen(rows);
    const plain = estimateNelsonAalen(rows, { limits: 'plain' });
    const from = curve.intervalFrom;
    expect([
      ...differences('time', curve.timeDays, expected.time, tolerance),
      ...differences('at risk', curve.atRisk, expected.nRisk, tolerance),
      ...differences('events', curve.events, expected.nEvent, tolerance),
      ...differences('H', curve.cumulativeHazard, expected.cumHaz, tolerance),
      ...differences('standard error', curve.standardError, expected.stdErr, tolerance),
      ...differences('exp(-H)', curve.survival, expected.survBreslow, tolerance),
      ...differences('log lower', curve.lower.slice(from), expected.ciLog.lower.slice(from), tolerance),
      ...differences('log upper', curve.upper.slice(from), expected.ciLog.upper.slice(from), tolerance),
      ...differences('plain lower', plain.lower, expected.ciPlain.lower, tolerance),
      ...differences('plain upper', plain.upper, expected.ciPlain.upper, tolerance),
    ]).toEqual([]);
  });

  it('agrees on the other variance and on ties one by one', () => {
    const binomial = estimateNelsonAalen(rows, { variance: 'binomial' });
    const oneByOne = estimateNelsonAalen(rows, { ties: 'one-by-one' });
    const variance = binomial.standardError.map((se) => se * se);
    expect([
      ...differences('binomial variance', variance, expected.varBinomialKlein, tolerance),
      ...differences('H', oneByOne.cumulativeHazard, expected.cumHazFlemingHarrington, tolerance),
      ...differences('standard error', oneByOne.standardError, expected.stdErrFlemingHarrington, tolerance),
      ...differences('exp(-H)', oneByOne.survival, expected.survFlemingHarrington, tolerance),
    ]).toEqual([]);
  });
});
