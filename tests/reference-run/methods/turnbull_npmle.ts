import { z } from 'zod';
import { estimateTurnbull, survivalBoundsAt, type TurnbullCurve } from '@/lib/statistics';
import { times } from '../survival-columns';
import { turnbullOfSurvfit } from '../turnbull-of-survfit';

const end = z.union([z.number(), z.null(), z.enum(['Inf', '-Inf'])]);
const shape = z.object({ left: z.array(end), right: z.array(end) });
const params = z.object({ times: times.default([]) });

const known = (value: z.infer<typeof end>): number | null => (typeof value === 'number' ? value : null);

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { left, right } = shape.parse(one.data);
  const { times: asked } = params.parse(one.params);
  const leftDays = left.map((value) => known(value) ?? 0);
  const rightDays = right.map((value) => known(value) ?? Number.POSITIVE_INFINITY);
  const curve = estimateTurnbull({ leftDays, rightDays });
  if (curve.kind === 'notEstimable') return { reason: curve.reason };
  const points = survivalBoundsAt(curve, asked);
  const looks = left.map((value, i) => ({ left: known(value), right: known(right[i]) }));
  return {
    intervals: {
      left: curve.leftDays,
      right: Array.from(curve.rightDays, (value) => (Number.isFinite(value) ? value : 'Inf')),
      exact: Array.from(curve.leftDays, (value, j) => value === curve.rightDays[j]),
      mass: curve.mass,
    },
    loglik: curve.logLikelihood,
    loglikNpsurv: likelihoodOfNpsurv(curve, leftDays, rightDays),
    kktMax: curve.largestGradient,
    survUpper: points.map(({ upper }) => upper),
    survLower: points.map(({ lower }) => lower),
    ambiguous: points.map(({ kind }) => kind === 'undetermined'),
    survfitValue: turnbullOfSurvfit(looks, asked),
  };
}

/**
 * The log-likelihood that the other package prints. Where no end is open on the right only, it is the same, but none with one
 * interval alone, where that package stops. Exact and right-censored times it takes for draws from the masses: all
 * right-censored cases count with the mass beyond the last of them, or not at all where the last time is exact.
 */
function likelihoodOfNpsurv(
  curve: TurnbullCurve,
  leftDays: readonly number[],
  rightDays: readonly number[],
): number | null {
  const exact = leftDays.filter((left, i) => left === rightDays[i]);
  const censored = leftDays.filter((_, i) => rightDays[i] === Number.POSITIVE_INFINITY);
  if (exact.length + censored.length < leftDays.length)
    return curve.mass.length === 1 ? null : curve.logLikelihood;
  const massAt = new Map(Array.from(curve.leftDays, (left, j) => [left, curve.mass[j]]));
  const events = exact.reduce((sum, time) => sum + Math.log(massAt.get(time) ?? Number.NaN), 0);
  if (censored.length === 0 || Math.max(...exact) > Math.max(...censored)) return events;
  return events + censored.length * Math.log(curve.mass[curve.mass.length - 1]);
}
