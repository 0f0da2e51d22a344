import { StatisticsError } from '../errors';

/**
 * How much each event time counts in a log-rank test. n at risk, d events, S(t-) the Kaplan-Meier curve of all groups
 * of the stratum together, just before t:
 * equal: 1; gehan-breslow: n; tarone-ware: root n; peto-peto: product of 1 - d/(n + 1) up to and including t;
 * modified-peto-peto: that times n/(n + 1); { rho, gamma }: S(t-)^rho (1 - S(t-))^gamma (Fleming-Harrington).
 */
export type LogRankWeighting =
  | 'equal'
  | 'gehan-breslow'
  | 'tarone-ware'
  | 'peto-peto'
  | 'modified-peto-peto'
  | { readonly rho: number; readonly gamma: number };

/** Gives the weight of one event time after another, in order of time, within one stratum. */
export type WeightOfTime = (atRisk: number, events: number) => number;

/** @throws StatisticsError outOfRange for a negative or missing power. */
export function weightsOfTimes(weighting: LogRankWeighting): WeightOfTime {
  if (weighting === 'equal') return () => 1;
  if (weighting === 'gehan-breslow') return (atRisk) => atRisk;
  if (weighting === 'tarone-ware') return Math.sqrt;
  if (weighting === 'peto-peto') return petoPeto();
  if (weighting === 'modified-peto-peto') {
    const survival = petoPeto();
    return (atRisk, events) => (survival(atRisk, events) * atRisk) / (atRisk + 1);
  }
  return flemingHarrington(weighting.rho, weighting.gamma);
}

function petoPeto(): WeightOfTime {
  let survival = 1;
  return (atRisk, events) => {
    survival *= (atRisk + 1 - events) / (atRisk + 1);
    return survival;
  };
}

function flemingHarrington(rho: number, gamma: number): WeightOfTime {
  checkPower('rho', rho);
  checkPower('gamma', gamma);
  let survival = 1;
  return (atRisk, events) => {
    const weight = survival ** rho * (1 - survival) ** gamma;
    survival *= (atRisk - events) / atRisk;
    return weight;
  };
}

function checkPower(name: 'rho' | 'gamma', power: number): void {
  if (Number.isFinite(power) && power >= 0) return;
  const message = `weighting.${name} is ${power}; give a power of zero or more.`;
  throw new StatisticsError('outOfRange', 'weighting', undefined, message);
}
