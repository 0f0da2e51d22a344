import { type Column, checkFinite } from './check-input';
import { StatisticsError } from './errors';

/** Throws at the first weight that is not a finite number of zero or more. */
export function checkWeights(weights: Column): void {
  checkFinite('weights', weights);
  for (let i = 0; i < weights.length; i += 1) {
    if (weights[i] >= 0) continue;
    const message = `weights[${i}] is ${weights[i]}; a weight is zero or more.`;
    throw new StatisticsError('negative', 'weights', i, message);
  }
}
