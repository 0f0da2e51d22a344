import { StatisticsError } from '../errors';

const MASK = (1n << 64n) - 1n;

/**
 * A seeded source of random numbers: Blackman & Vigna's xoshiro128** (ACM Trans Math Softw 2021;47:36), 2^128 - 1 numbers
 * of 32 bits before it repeats. Not for secrets.
 */
export class RandomGenerator {
  private readonly state: Int32Array;

  /** Four whole numbers of 32 bits, not all 0. */
  constructor(state: readonly [number, number, number, number]) {
    this.state = Int32Array.from(state, (word) => word | 0);
  }

  /** A whole number from 0 to 2^32 - 1. */
  nextWord(): number {
    const { state } = this;
    const s0 = state[0];
    const s1 = state[1];
    const s2 = state[2];
    const s3 = state[3];
    const scrambled = Math.imul(s1, 5);
    const word = Math.imul((scrambled << 7) | (scrambled >>> 25), 9);
    const mixed = s3 ^ s1;
    state[1] = s1 ^ s2 ^ s0;
    state[0] = s0 ^ mixed;
    state[2] = s2 ^ s0 ^ (s1 << 9);
    state[3] = (mixed << 11) | (mixed >>> 21);
    return word >>> 0;
  }

  /** A number strictly between 0 and 1, in steps of 2^-52. */
  uniform(): number {
    const high = this.nextWord() >>> 6;
    const low = this.nextWord() >>> 6;
    return (high * 2 ** 26 + low + 0.5) * 2 ** -52;
  }

  /** A whole number from 0 to count - 1, each exactly as likely: words that would favour some are drawn again. */
  below(count: number): number {
    const usable = 2 ** 32 - (2 ** 32 % count);
    for (;;) {
      const word = this.nextWord();
      if (word < usable) return word % count;
    }
  }

  /**
   * Draws as many rows as there are, with replacement, and adds 1 to the cell of each. The same as `below` for each, in
   * a quarter of the time: the upper word of word x rows is the row, the lower one tells words to be drawn again (Lemire,
   * ACM Trans Model Comput Simul 2019;29:3). At most 2^21 rows, so that the product is exact.
   */
  countDraws(cellOfRow: Int32Array, counts: Int32Array): void {
    const rows = cellOfRow.length;
    const unfair = 2 ** 32 % rows;
    const { state } = this;
    let [s0, s1, s2, s3] = state;
    for (let left = rows; left > 0; ) {
      const scrambled = Math.imul(s1, 5);
      const word = Math.imul((scrambled << 7) | (scrambled >>> 25), 9);
      const shifted = s1 << 9;
      s2 ^= s0;
      s3 ^= s1;
      s1 ^= s2;
      s0 ^= s3;
      s2 ^= shifted;
      s3 = (s3 << 11) | (s3 >>> 21);
      if (Math.imul(word, rows) >>> 0 < unfair) continue;
      counts[cellOfRow[(((word >>> 0) * rows) / 2 ** 32) | 0]] += 1;
      left -= 1;
    }
    state.set([s0, s1, s2, s3]);
  }
}

/**
 * A generator from one number, such as the seed that stands beside a published figure: the same seed gives the same
 * numbers on every machine. The state is drawn by splitmix64 (Steele, Lea & Flood, OOPSLA 2014), as the authors of xoshiro
 * advise, so that neighbouring seeds have nothing in common.
 * @throws StatisticsError notInteger, negative, outOfRange (above 2^53 - 1).
 */
export function deriveGenerator(seed: number): RandomGenerator {
  checkSeed(seed);
  const [first, second] = splitmix64(BigInt(seed), 2);
  const low = (word: bigint): number => Number(word & 0xffffffffn);
  return new RandomGenerator([low(first), low(first >> 32n), low(second), low(second >> 32n)]);
}

/** Words of 64 bits. */
export function splitmix64(seed: bigint, count: number): bigint[] {
  let state = seed;
  return Array.from({ length: count }, () => {
    state = (state + 0x9e3779b97f4a7c15n) & MASK;
    let word = state;
    word = ((word ^ (word >> 30n)) * 0xbf58476d1ce4e5b9n) & MASK;
    word = ((word ^ (word >> 27n)) * 0x94d049bb133111ebn) & MASK;
    return word ^ (word >> 31n);
  });
}

function checkSeed(seed: number): void {
  const said = `seed is ${seed}; give a whole number from 0 to 2^53 - 1.`;
  if (!Number.isInteger(seed)) throw new StatisticsError('notInteger', 'seed', undefined, said);
  if (seed < 0) throw new StatisticsError('negative', 'seed', undefined, said);
  if (!Number.isSafeInteger(seed)) throw new StatisticsError('outOfRange', 'seed', undefined, said);
}
