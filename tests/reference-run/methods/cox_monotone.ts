import { z } from 'zod';
import { fitCox, testLogRank } from '@/lib/statistics';
import { codesOf, levelsOf, times } from '../survival-columns';

const shape = z.object({ time: times, status: times, x: times });

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event, x } = shape.parse(one.data);
  const fit = fitCox({ timeDays, event, covariates: [x] });
  if (fit.kind !== 'monotone') return { infinite: false };
  const [coefficient] = fit.coefficients;
  const logRank = testLogRank({ timeDays, event, group: codesOf(x, levelsOf(x)) });
  return {
    infinite: coefficient.kind === 'infinite',
    sign: coefficient.kind === 'infinite' ? coefficient.sign : null,
    loglikNull: fit.nullLogLikelihood,
    loglikLimit: fit.logLikelihood,
    lrtStat: fit.likelihoodRatio.chiSquare,
    lrtP: fit.likelihoodRatio.pValue,
    scoreStat: fit.score.chiSquare,
    scoreP: fit.score.pValue,
    logrankChisq: logRank.kind === 'tested' ? logRank.chiSquare : null,
  };
}
