import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateKaplanMeier,
  estimateTurnbull,
  survivalAt,
  survivalBoundsAt,
  type TurnbullCurve,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { followUp } from './follow-up';

const NEVER = Number.POSITIVE_INFINITY;
type Look = { readonly left: number; readonly right: number };

const look: fc.Arbitrary<Look> = fc
  .record({
    left: fc.integer({ min: 0, max: 25 }),
    width: fc.integer({ min: 1, max: 12 }),
    kind: fc.constantFrom('exact', 'interval', 'interval', 'never'),
  })
  .map(({ left, width, kind }) => ({
    left,
    right: kind === 'never' ? NEVER : kind === 'exact' ? left : left + width,
  }));
const looks = fc.array(look, { minLength: 1, maxLength: 50 });

const fitted = (rows: readonly Look[]): TurnbullCurve =>
  estimable(
    estimateTurnbull({ leftDays: rows.map(({ left }) => left), rightDays: rows.map(({ right }) => right) }),
  );

const holds = ({ left, right }: Look, from: number, to: number): boolean =>
  left === right ? from === left && to === left : from >= left && to <= right && to > left;

const probabilityOf = (curve: TurnbullCurve, row: Look): number =>
  curve.mass.reduce(
    (sum, mass, j) => (holds(row, curve.leftDays[j], curve.rightDays[j]) ? sum + mass : sum),
    0,
  );

it('with exact and right-censored times is Kaplan-Meier', () => {
  fc.assert(
    fc.property(followUp(), fc.constantFrom(1, 0.1), ({ timeDays, event }, unit) => {
      const days = timeDays.map((day) => day * unit);
      const kaplanMeier = estimateKaplanMeier({ timeDays: days, event });
      const curve = fitted(days.map((left, i) => ({ left, right: event[i] === 1 ? left : NEVER })));
      const followed = kaplanMeier.timeDays;
      const bounds = survivalBoundsAt(curve, followed);
      for (const [i, point] of survivalAt(kaplanMeier, followed).entries()) {
        expect(bounds[i].kind).toBe('determined');
        expect(bounds[i].upper).toBeCloseTo(estimable(point).survival, 9);
        expect(bounds[i].lower).toBeCloseTo(estimable(point).survival, 9);
      }
    }),
  );
});

it('no place of mass would raise the likelihood: every derivative is at most n', () => {
  fc.assert(
    fc.property(looks, (rows) => {
      const curve = fitted(rows);
      const weights = rows.map((row) => 1 / probabilityOf(curve, row));
      const derivative = (from: number, to: number): number =>
        rows.reduce((sum, row, i) => (holds(row, from, to) ? sum + weights[i] : sum), 0) / rows.length;
      for (let day = 0; day <= 40; day += 1) {
        expect(derivative(day, day)).toBeLessThanOrEqual(1 + 1e-9);
        expect(derivative(day, day + 1)).toBeLessThanOrEqual(1 + 1e-9);
      }
      expect(curve.largestGradient).toBeLessThanOrEqual(1 + 1e-10);
      for (const j of curve.mass.keys())
        expect(derivative(curve.leftDays[j], curve.rightDays[j])).toBeCloseTo(1, 6);
    }),
  );
});

it('has masses above zero that sum to one, in order and apart, and a likelihood that is theirs', () => {
  fc.assert(
    fc.property(looks, (rows) => {
      const curve = fitted(rows);
      expect(curve.mass.every((mass) => mass > 0)).toBe(true);
      expect(curve.mass.reduce((sum, mass) => sum + mass, 0)).toBeCloseTo(1, 9);
      for (let j = 1; j < curve.mass.length; j += 1)
        expect(curve.leftDays[j]).toBeGreaterThanOrEqual(curve.rightDays[j - 1]);
      const likelihood = rows.reduce((sum, row) => sum + Math.log(probabilityOf(curve, row)), 0);
      expect(curve.logLikelihood).toBeCloseTo(likelihood, 7);
    }),
  );
});

it('does not depend on the order of the rows, and a copy of every row changes nothing but the likelihood', () => {
  fc.assert(
    fc.property(looks, (rows) => {
      const curve = fitted(rows);
      expect(fitted(rows.toReversed()).logLikelihood).toBeCloseTo(curve.logLikelihood, 7);
      const twice = fitted([...rows, ...rows]);
      expect(twice.n).toBe(2 * curve.n);
      expect(twice.logLikelihood).toBeCloseTo(2 * curve.logLikelihood, 6);
    }),
  );
});

it('has bounds that never rise and never cross', () => {
  fc.assert(
    fc.property(looks, (rows) => {
      const times = Array.from({ length: 80 }, (_, i) => i / 2);
      let previous = { lower: 1, upper: 1 };
      for (const { kind, lower, upper } of survivalBoundsAt(fitted(rows), times)) {
        expect(lower).toBeLessThanOrEqual(upper);
        expect(lower).toBeLessThanOrEqual(previous.lower + 1e-12);
        expect(upper).toBeLessThanOrEqual(previous.upper + 1e-12);
        if (kind === 'determined') expect(lower).toBe(upper);
        else expect(lower).toBeLessThan(upper);
        previous = { lower, upper };
      }
    }),
  );
});
