import { z } from 'zod';
import { estimateNelsonAalen } from '@/lib/statistics';
import { times } from '../survival-columns';

const shape = z.object({ time: times, status: times });

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event } = shape.parse(one.data);
  const data = { timeDays, event };
  const logLimits = estimateNelsonAalen(data, { limits: 'log' });
  const plainLimits = estimateNelsonAalen(data, { limits: 'plain' });
  const binomial = estimateNelsonAalen(data, { variance: 'binomial' });
  const oneByOne = estimateNelsonAalen(data, { ties: 'one-by-one' });
  const afterFirst = (column: Float64Array): (number | null)[] =>
    Array.from(column, (value, i) => (i < logLimits.intervalFrom ? null : value));
  return {
    time: logLimits.timeDays,
    nRisk: logLimits.atRisk,
    nEvent: logLimits.events,
    cumHaz: logLimits.cumulativeHazard,
    stdErr: logLimits.standardError,
    varAalen: logLimits.standardError.map((se) => se * se),
    varBinomialKlein: binomial.standardError.map((se) => se * se),
    ciPlain: { lower: plainLimits.lower, upper: plainLimits.upper },
    ciLog: { lower: afterFirst(logLimits.lower), upper: afterFirst(logLimits.upper) },
    cumHazFlemingHarrington: oneByOne.cumulativeHazard,
    stdErrFlemingHarrington: oneByOne.standardError,
    survBreslow: logLimits.survival,
    survFlemingHarrington: oneByOne.survival,
    // The standard error of log exp(-H) is that of H.
    stdErrLogSurvBreslow: logLimits.standardError,
  };
}
