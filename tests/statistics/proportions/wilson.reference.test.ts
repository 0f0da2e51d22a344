import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { estimateWilsonInterval } from '@/lib/statistics';
import { differences, loadCases, loadReference } from '../reference-cases';

const shape = z.object({
  params: z.object({ confLevel: z.number() }),
  data: z.object({ x: z.array(z.number()), n: z.array(z.number()) }),
  expected: z.object({
    estimate: z.array(z.number()),
    wilson: z.object({ lower: z.array(z.number()), upper: z.array(z.number()) }),
  }),
});

function limitsOf(
  events: number,
  n: number,
  confidenceLevel: number,
): { p: number; lower: number; upper: number } {
  const interval = estimateWilsonInterval(events, n, { confidenceLevel });
  if (interval.kind !== 'estimated') throw new Error(interval.reason);
  return { p: interval.proportion, lower: interval.lower, upper: interval.upper };
}

// The published table has the same method name but other keys: it is read below.
const cases = loadCases('proportion_ci', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(cases)('$id ($rCall)', (reference) => {
  it('agrees', () => {
    const { params, data, expected } = shape.parse(reference);
    const got = data.x.map((events, i) => limitsOf(events, data.n[i], params.confLevel));
    const { tolerance } = reference;
    expect([
      ...differences(
        'estimate',
        got.map((g) => g.p),
        expected.estimate,
        tolerance,
      ),
      ...differences(
        'lower',
        got.map((g) => g.lower),
        expected.wilson.lower,
        tolerance,
      ),
      ...differences(
        'upper',
        got.map((g) => g.upper),
        expected.wilson.upper,
        tolerance,
      ),
    ]).toEqual([]);
    for (const [i, events] of data.x.entries()) {
      if (events === 0) expect(got[i].lower).toBe(0);
      if (events === data.n[i]) expect(got[i].upper).toBe(1);
    }
  });
});

it('prints the limits of Newcombe, Stat Med 1998;17:857, table I, method 3', () => {
  const published = loadReference(
    'pub-newcombe1-wilson',
    z.object({
      data: z.object({ x: z.array(z.number()), n: z.array(z.number()) }),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  for (const [i, events] of published.data.x.entries()) {
    const n = published.data.n[i];
    const { lower, upper } = limitsOf(events, n, 0.95);
    expect(Number(lower.toFixed(4))).toBe(published.printed.values[`lo_${events}_${n}`]);
    expect(Number(upper.toFixed(4))).toBe(published.printed.values[`up_${events}_${n}`]);
  }
  expect(published.data.x).toHaveLength(4);
});
