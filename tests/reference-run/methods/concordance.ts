import { z } from 'zod';
import { estimateConcordance } from '@/lib/statistics';
import { times } from '../survival-columns';

const shape = z.object({ time: times, status: times, x: times, weights: times.optional() });

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event, x: marker, weights } = shape.parse(one.data);
  const columns = { timeDays, event, marker };
  const found = estimateConcordance(weights ? { ...columns, weights } : columns);
  if (found.kind === 'notEstimable') return { C: null, se: null };
  return {
    C: found.concordance,
    // Without an interval the cases write a standard error of zero.
    se: found.interval.kind === 'estimated' ? found.interval.standardError : 0,
    concordant: found.concordant,
    discordant: found.discordant,
    tiedX: found.tiedMarker,
    tiedY: found.tiedTime,
    tiedXY: found.tiedBoth,
  };
}
