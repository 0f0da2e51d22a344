import { type NotEstimable, notEstimable } from '../absence';
import { StatisticsError } from '../errors';
import { type CaseMix, chanceOfRise, incrementsOf, type MonitoredCusum } from './case-mix';
import { checkAboveZero, checkWholeFrom } from './check-chart';

export type SimulatedRunLength = {
  readonly kind: 'estimated';
  readonly runs: number;
  readonly mean: number;
  /** Monte Carlo standard error of the mean. */
  readonly standardError: number;
};

export type SimulationOptions = {
  /** Uniform draws from 0 up to, not including, 1; give a seeded generator so that the result can be repeated. */
  readonly random: () => number;
  /** Number of runs, 2 or more. */
  readonly runs: number;
  /** A run without a signal after so many cases ends the simulation without a result; 1,000,000 when left out. */
  readonly longestRun?: number;
};

/**
 * The mean run length of a risk-adjusted CUSUM, by simulation.
 *
 * Estimand: as deriveCusumRunLength, of which this is the independent check; no grid is involved.
 * Formula: for each case one draw chooses a row of the mix, a second decides on its event; the run ends at the first sum at
 * or above the threshold. Mean over the runs, standard error sd/root(runs).
 * Not estimable: no rows; a chart that no case can raise; a run longer than `longestRun`, as leaving it out would shorten
 * the mean.
 * @throws StatisticsError unequalLengths, notFinite, notInteger, outOfRange (as deriveCusumRunLength; runs, longestRun, a
 * draw outside 0 to 1).
 */
export function estimateCusumRunLength(
  mix: CaseMix,
  chart: MonitoredCusum,
  options: SimulationOptions,
): SimulatedRunLength | NotEstimable {
  const { random, runs, longestRun = 1_000_000 } = options;
  const increments = incrementsOf(mix, chart);
  checkAboveZero('threshold', chart.threshold);
  checkWholeFrom('runs', runs, 2);
  checkWholeFrom('longestRun', longestRun, 1);
  const n = mix.probability.length;
  if (n === 0) return notEstimable('noRows');
  if (chanceOfRise(increments) === 0) return notEstimable('neverSignals');
  const { value, chance } = increments;
  const draw = drawsFrom(random);
  let [mean, squares] = [0, 0];
  for (let run = 1; run <= runs; run += 1) {
    let sum = 0;
    let cases = 0;
    while (sum < chart.threshold) {
      if (cases === longestRun) return notEstimable('runTooLong');
      cases += 1;
      const row = Math.floor(draw() * n);
      const increment = draw() < chance[row] * n ? value[row] : value[n + row];
      sum = Math.max(0, sum + increment);
    }
    const away = cases - mean;
    mean += away / run;
    squares += away * (cases - mean);
  }
  return { kind: 'estimated', runs, mean, standardError: Math.sqrt(squares / (runs - 1) / runs) };
}

/** A draw outside 0 to 1 would look up a row that does not exist. */
function drawsFrom(random: () => number): () => number {
  return () => {
    const u = random();
    if (u >= 0 && u < 1) return u;
    const message = `random gave ${u}; give a generator of numbers from 0 up to, not including, 1.`;
    throw new StatisticsError('outOfRange', 'random', undefined, message);
  };
}
