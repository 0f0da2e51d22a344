import { type NotEstimable, notEstimable } from '../absence';
import { type ArmCount, checkArms } from './arms';
import { largestProbability, regionWhere } from './nuisance';
import { highestEvents, lowestEvents, tableDistribution } from './table-distribution';

export type BoschlooTest = {
  readonly kind: 'tested';
  /** Two-sided: twice the smaller one-sided p value, at most 1. */
  readonly pValue: number;
  readonly pLess: number;
  readonly pGreater: number;
};

/** Fisher p values that differ by rounding only are one. */
const ROUNDING = 1 + 1e-10;

/**
 * Boschloo's unconditional exact test of equal proportions in two arms: never less powerful than Fisher's.
 *
 * Estimand: the hypothesis p1 = p2 = pi, pi unknown, arm sizes fixed.
 * Formula: Fisher's one-sided p value serves as the statistic: all tables whose value is at most that of the table seen;
 * the p value is the largest probability of that set over pi in 0 to 1 (Boschloo, Stat Neerl 1970;24:1). pLess looks
 * towards fewer events in the first arm, pGreater towards more.
 * Cost grows with n1 n2. Not estimable: an arm without cases.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function testBoschloo(first: ArmCount, second: ArmCount): BoschlooTest | NotEstimable {
  checkArms(first, second);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  const pLess = oneSided(first, second);
  // More events in the first arm are fewer events in the second.
  const pGreater = oneSided(second, first);
  return { kind: 'tested', pValue: Math.min(1, 2 * Math.min(pLess, pGreater)), pLess, pGreater };
}

function oneSided(first: ArmCount, second: ArmCount): number {
  const tails = Array.from({ length: first.n + second.n + 1 }, (_, events) =>
    lowerTails(first.n, second.n, events),
  );
  const fisher = (x: number, y: number): number => {
    const { lowest, tail } = tails[x + y];
    return tail[x - lowest];
  };
  const reached = fisher(first.events, second.events) * ROUNDING;
  return largestProbability(regionWhere(first.n, second.n, (x, y) => fisher(x, y) <= reached));
}

/** P(X <= x) for every x when `events` fall among n1 + n2 cases. */
function lowerTails(
  n1: number,
  n2: number,
  events: number,
): { readonly lowest: number; readonly tail: Float64Array } {
  const first = { events: Math.max(0, events - n2), n: n1 };
  const second = { events: events - first.events, n: n2 };
  const { probability } = tableDistribution(first, second, 1);
  const tail = new Float64Array(highestEvents(first, second) - lowestEvents(first, second) + 1);
  let sum = 0;
  for (let i = 0; i < tail.length; i += 1) {
    sum += probability[i];
    tail[i] = Math.min(1, sum);
  }
  return { lowest: first.events, tail };
}
