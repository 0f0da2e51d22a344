import { type FirstSignal, firstSignal } from './first-signal';

export type CusumPath = {
  /** The sum after each case, never below 0, going on through signals. */
  readonly sum: Float64Array;
  readonly firstSignal: FirstSignal;
  /** The sum that starts again at 0 after each signal; the case of the signal keeps the value that signalled. */
  readonly sumWithReset: Float64Array;
  /** Cases, counted from 1, at which the sum with reset signalled. */
  readonly signals: readonly number[];
};

/** S_t = max(0, S_(t-1) + W_t) from S_0 = 0; a signal is S_t >= threshold. */
export function cusumPath(weight: Float64Array, threshold: number): CusumPath {
  const sum = new Float64Array(weight.length);
  const sumWithReset = new Float64Array(weight.length);
  const signals: number[] = [];
  let [running, restarting] = [0, 0];
  for (let i = 0; i < weight.length; i += 1) {
    running = Math.max(0, running + weight[i]);
    restarting = Math.max(0, restarting + weight[i]);
    sum[i] = running;
    sumWithReset[i] = restarting;
    if (restarting >= threshold) {
      signals.push(i + 1);
      restarting = 0;
    }
  }
  return { sum, firstSignal: firstSignal(sum, (value) => value >= threshold), sumWithReset, signals };
}
