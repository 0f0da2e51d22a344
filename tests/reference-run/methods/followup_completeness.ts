import { z } from 'zod';
import {
  estimateFollowUpCompleteness,
  estimateReverseKaplanMeier,
  type NotEstimable,
  summariseFollowUp,
} from '@/lib/statistics';
import { times } from '../survival-columns';
import { quantilesOf } from '../survival-curve';

const shape = z.object({ time: times, status: times, potential: times.optional() });

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event, potential: potentialDays } = shape.parse(one.data);
  const data = { timeDays, event };
  const reverse = estimateReverseKaplanMeier(data, { limits: 'log' });
  const eventsFirst = estimateReverseKaplanMeier(data, { limits: 'log', tiedEvents: 'gone' });
  const summary = summariseFollowUp(data);
  return {
    reverseKM: {
      time: reverse.timeDays,
      surv: reverse.survival,
      quartiles: quantilesOf(reverse, 'estimate'),
      lowerLog: quantilesOf(reverse, 'lower'),
      upperLog: quantilesOf(reverse, 'upper'),
    },
    // With nobody censored the cases leave this one empty.
    reverseKMprodlim:
      eventsFirst.eventTotal === 0
        ? { time: [], surv: [] }
        : { time: eventsFirst.timeDays, surv: eventsFirst.survival },
    medianTimeAll: numberOrNull(summary.medianDays),
    medianTimeCensored: numberOrNull(summary.medianDaysOfCensored),
    personTime: summary.personDays,
    ...(potentialDays ? completeness({ ...data, potentialDays }) : {}),
  };
}

function completeness(data: {
  timeDays: number[];
  event: number[];
  potentialDays: number[];
}): Record<string, unknown> {
  const found = estimateFollowUpCompleteness(data);
  if (found.kind === 'notEstimable') return { reason: found.reason };
  return {
    clarkC: found.clarkIndex,
    clarkPotentialUsed: found.potentialUsedDays,
    simplifiedPersonTime: found.simplifiedPersonTime,
    percentageMethod: found.completeShare,
  };
}

function numberOrNull(value: number | NotEstimable): number | null {
  return typeof value === 'number' ? value : null;
}
