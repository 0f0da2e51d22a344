import { z } from 'zod';
import {
  estimateConditionalSurvival,
  estimateKaplanMeier,
  selectAtLandmark,
  testLogRank,
} from '@/lib/statistics';
import { codesOf, label, levelsOf, times } from '../survival-columns';
import { describeCurve } from '../survival-curve';

const shape = z.object({ time: times, status: times, group: z.array(label) });
const params = z.object({ landmark: z.number(), times });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time: timeDays, status: event, group } = shape.parse(one.data);
  const { landmark, times: asked } = params.parse(one.params);
  const later = asked.map((time) => time - landmark);
  const kept = selectAtLandmark({ timeDays, event }, landmark);
  const keptGroup = Array.from(kept.rows, (i) => group[i]);
  const conditional = estimateConditionalSurvival(estimateKaplanMeier({ timeDays, event }), landmark, later);
  const test = testLogRank({ ...kept, group: codesOf(keptGroup, levelsOf(keptGroup)) });
  return {
    ...describeCurve(kept, later, 0.95),
    nAtLandmark: kept.n,
    conditionalFromFullCurve: conditional.map((point) =>
      point.kind === 'estimated' ? point.survival : null,
    ),
    logrank:
      test.kind === 'tested'
        ? {
            chisq: test.chiSquare,
            df: test.degreesOfFreedom,
            obs: test.groups.map(({ observed }) => observed),
            exp: test.groups.map(({ expected }) => expected),
          }
        : { reason: test.reason },
  };
}
