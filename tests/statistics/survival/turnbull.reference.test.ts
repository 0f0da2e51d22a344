import { expect, it } from 'vitest';
import { z } from 'zod';
import { estimateTurnbull, survivalBoundsAt } from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadCases, loadReference } from '../reference-cases';

it.each(keptCases('turnbull_npmle'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

const end = z.number().nullable();
const columns = z.object({ left: z.array(end), right: z.array(end) });
const outside = z.object({
  params: z.object({ times: z.array(z.number()) }),
  data: columns,
  expected: z.record(z.string(), z.unknown()),
});
const known = new Set(keptCases('turnbull_npmle').map(({ id }) => id));
const others = loadCases('turnbull_npmle', z.looseObject({})).filter(
  ({ id }) => !known.has(id) && !id.startsWith('pub-'),
);

it.each(others)('$id ($rCall)', (one) => {
  expect(differencesFrom({ ...one, ...outside.parse(one) })).toEqual([]);
});

it('prints the radiotherapy curve of Klein & Moeschberger, Section 5.2 (data of Beadle 1984), as far as that had converged', () => {
  const { data, expected, printed } = loadReference(
    'pub-turnbull-rt',
    z.object({
      data: columns,
      expected: z.record(z.string(), z.number()),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  const curve = estimable(
    estimateTurnbull({
      leftDays: data.left.map((left) => left ?? 0),
      rightDays: data.right.map((right) => right ?? Number.POSITIVE_INFINITY),
    }),
  );
  const after = survivalBoundsAt(curve, curve.rightDays.slice(0, 7)).map(({ lower }) => lower);
  for (const [i, survival] of after.entries()) {
    const key = `S_after_${i + 1}`;
    expect(survival).toBeCloseTo(expected[key], 9);
    // The seventh, 0.467, was printed before it had converged: the maximum is 0.4656.
    if (i < 6) expect(Number(survival.toFixed(3))).toBe(printed.values[key]);
  }
});
