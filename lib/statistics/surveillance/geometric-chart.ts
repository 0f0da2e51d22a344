import { type Column, checkCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { checkOpenFraction } from './check-chart';

export type GeometricChartDesign = {
  readonly baselineRate: number;
  /** The chance of a false signal on each side, per gap. */
  readonly tailProbability: number;
};

type GapSignal = { readonly row: number; readonly direction: 'rise' | 'fall' };

export type GeometricChart = {
  /** Cases from each event to the next, the later event counted; the first gap starts with the series. */
  readonly gap: Int32Array;
  /** The case, counted from 1, at which each gap ended. */
  readonly endedAt: Int32Array;
  /** A gap this short or shorter signals a rise; 0 when no gap is short enough. */
  readonly lowerLimit: number;
  /** A gap this long or longer signals a fall. */
  readonly upperLimit: number;
  /** The gaps that signal, in order, as rows of `gap`. */
  readonly signals: readonly GapSignal[];
  /** Cases since the last event, and whether the gap they belong to is certain to signal a fall. */
  readonly casesSinceEvent: number;
  readonly openGapSignals: boolean;
};

/**
 * The number of cases between events, with exact probability limits (g chart).
 *
 * Estimand: whether rare events come closer together, or farther apart, than a constant rate lets expect.
 * Formula: a gap G counts cases up to and including the next event, P(G <= g) = 1 - (1 - p)^g (geometric). Lower limit: the
 * largest g with P(G <= g) <= tail; upper limit: the smallest g with P(G >= g) = (1 - p)^(g - 1) <= tail (Benneyan, Health
 * Care Manag Sci 2001;4:305, with probability limits in place of three sigmas).
 * Convention: a gap at a limit signals. A probability that equals the tail up to rounding counts as equal.
 * Shapes: one row per case, in the order of entry; a series without events has no gap. Units: cases.
 * @throws StatisticsError notFinite, unknownCode (event), outOfRange (rate not strictly between 0 and 1, tail not
 * strictly between 0 and one half).
 */
export function deriveGeometricChart(event: Column, design: GeometricChartDesign): GeometricChart {
  const { baselineRate, tailProbability } = design;
  checkCodes('event', event, 2);
  checkOpenFraction('baselineRate', baselineRate);
  checkTail(tailProbability);
  const logNone = Math.log1p(-baselineRate);
  const lowerLimit = Math.floor(snapped(Math.log1p(-tailProbability) / logNone));
  const upperLimit = 1 + Math.ceil(snapped(Math.log(tailProbability) / logNone));
  const gaps: number[] = [];
  const ends: number[] = [];
  let casesSinceEvent = 0;
  for (let i = 0; i < event.length; i += 1) {
    casesSinceEvent += 1;
    if (event[i] === 1) {
      gaps.push(casesSinceEvent);
      ends.push(i + 1);
      casesSinceEvent = 0;
    }
  }
  const signals = gaps.flatMap((gap, row): GapSignal[] => {
    if (gap <= lowerLimit) return [{ row, direction: 'rise' }];
    return gap >= upperLimit ? [{ row, direction: 'fall' }] : [];
  });
  return {
    gap: Int32Array.from(gaps),
    endedAt: Int32Array.from(ends),
    lowerLimit,
    upperLimit,
    signals,
    casesSinceEvent,
    openGapSignals: casesSinceEvent + 1 >= upperLimit,
  };
}

/** A number of cases that is whole up to rounding. */
function snapped(cases: number): number {
  const whole = Math.round(cases);
  return Math.abs(cases - whole) <= 1e-12 * Math.max(1, whole) ? whole : cases;
}

/** With half or more on each side every gap would signal. */
function checkTail(tailProbability: number): void {
  if (!(tailProbability > 0 && tailProbability < 0.5)) {
    const message = `tailProbability is ${tailProbability}; give a fraction above 0 and below 0.5.`;
    throw new StatisticsError('outOfRange', 'tailProbability', undefined, message);
  }
}
