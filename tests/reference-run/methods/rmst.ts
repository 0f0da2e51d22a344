import { z } from 'zod';
import {
  type Contrast,
  estimateKaplanMeierByGroup,
  estimateRestrictedMean,
  estimateRestrictedMeanContrast,
  type NotEstimable,
  type RestrictedMean,
} from '@/lib/statistics';
import { codesOf, label, levelsOf, times } from '../survival-columns';

const shape = z.object({ time: times, status: times, group: z.array(label) });
const params = z.object({ taus: times });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time: timeDays, status: event, group } = shape.parse(one.data);
  const levels = levelsOf(group);
  const curves = estimateKaplanMeierByGroup({ timeDays, event, group: codesOf(group, levels) });
  const horizons = params.parse(one.params).taus.map((tau) => {
    const means = curves.map((curve) => estimateRestrictedMean(curve, tau));
    const groups = means.map((mean, g) => [`group_${levels[g]}`, describeMean(mean)]);
    return [`tau_${tau}`, { ...Object.fromEntries(groups), ...describeContrast(means) }];
  });
  return Object.fromEntries(horizons);
}

function describeMean(mean: RestrictedMean | NotEstimable): Record<string, unknown> {
  if (mean.kind === 'notEstimable') return { reason: mean.reason };
  const { interval, meanDays } = mean;
  return {
    rmst: meanDays,
    rmtl: mean.lostDays,
    // Without an interval the cases write one of no width.
    se: interval.kind === 'estimated' ? interval.standardError : 0,
    lower: interval.kind === 'estimated' ? interval.lower : meanDays,
    upper: interval.kind === 'estimated' ? interval.upper : meanDays,
  };
}

function describeContrast(means: readonly (RestrictedMean | NotEstimable)[]): Record<string, unknown> {
  const [first, second, ...others] = means;
  if (others.length > 0 || first?.kind !== 'estimated' || second?.kind !== 'estimated') return {};
  const { difference, ratio } = estimateRestrictedMeanContrast(first, second);
  return {
    difference: { of: 'second minus first', ...columnsOf(difference, second.meanDays - first.meanDays) },
    ratio: columnsOf(ratio, second.meanDays / first.meanDays),
  };
}

function columnsOf(contrast: Contrast | NotEstimable, point: number): Record<string, unknown> {
  if (contrast.kind === 'notEstimable')
    return { est: point, se: 0, lower: point, upper: point, z: null, p: null };
  const { estimate, standardError, lower, upper, z: score, pValue } = contrast;
  return { est: estimate, se: standardError, lower, upper, z: score, p: pValue };
}
