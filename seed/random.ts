/**
 * Random numbers that are the same on every machine and in every year: xoshiro128** 1.1 (Blackman and Vigna, Scrambled
 * linear pseudorandom number generators, ACM TOMS 2021), its state filled by SplitMix64 (Steele, Lea and Flood, OOPSLA
 * 2014). Each purpose of each patient draws from a stream of its own, so that a change in one leaves the others as they are.
 */
export class RandomStream {
  private s0: number;
  private s1: number;
  private s2: number;
  private s3: number;

  constructor(state: readonly [number, number, number, number]) {
    [this.s0, this.s1, this.s2, this.s3] = state.map((word) => word | 0);
    if ((this.s0 | this.s1 | this.s2 | this.s3) === 0)
      throw new RangeError('a state of zeros yields only zeros');
  }

  /** A whole number from 0 to 2^32 - 1. */
  next(): number {
    const scrambled = Math.imul(rotateLeft(Math.imul(this.s1, 5), 7), 9) >>> 0;
    const shifted = this.s1 << 9;
    this.s2 ^= this.s0;
    this.s3 ^= this.s1;
    this.s1 ^= this.s2;
    this.s0 ^= this.s3;
    this.s2 ^= shifted;
    this.s3 = rotateLeft(this.s3, 11);
    return scrambled;
  }

  /** Strictly between 0 and 1. */
  uniform(): number {
    return (this.next() + 0.5) / 4_294_967_296;
  }

  /** Between two bounds. */
  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }

  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.uniform() * (high - low + 1));
  }

  /** True with the given probability. */
  happens(probability: number): boolean {
    return this.uniform() < probability;
  }

  /** Normal, by Box and Muller (1958); the second value of each pair is left unused so that every call costs two draws. */
  normal(mean: number, deviation: number): number {
    const radius = Math.sqrt(-2 * Math.log(this.uniform()));
    return mean + deviation * radius * Math.cos(2 * Math.PI * this.uniform());
  }

  /** Exponential with the given mean. */
  exponential(mean: number): number {
    return -mean * Math.log(this.uniform());
  }

  /** One of the keys, with probability proportional to its weight; weights need not sum to one. */
  choose<Key extends string>(weights: Readonly<Record<Key, number>>): Key {
    const entries = keysOf(weights);
    const total = entries.reduce((sum, key) => sum + weights[key], 0);
    let left = this.uniform() * total;
    for (const key of entries) {
      left -= weights[key];
      if (left < 0) return key;
    }
    return entries[entries.length - 1];
  }

  /** So many random bytes. */
  bytes(length: number): Uint8Array {
    return Uint8Array.from({ length }, () => this.next() >>> 24);
  }

  /** A random id of version 4 (RFC 9562). */
  id(): string {
    const bytes = this.bytes(16);
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
    return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
  }
}

const rotateLeft = (word: number, by: number): number => (word << by) | (word >>> (32 - by));

/** The keys of a record, typed. Their order is the order in which they were written down. */
function keysOf<Key extends string>(record: Readonly<Record<Key, unknown>>): Key[] {
  return Object.keys(record).filter((key): key is Key => Object.hasOwn(record, key));
}

const WORD64 = (1n << 64n) - 1n;
const GOLDEN = 0x9e3779b97f4a7c15n;

/** SplitMix64: successive 64-bit numbers from a seed. */
export function* splitMix64(seed: bigint): Generator<bigint, never> {
  let state = seed & WORD64;
  for (;;) {
    state = (state + GOLDEN) & WORD64;
    let mixed = state;
    mixed = ((mixed ^ (mixed >> 30n)) * 0xbf58476d1ce4e5b9n) & WORD64;
    mixed = ((mixed ^ (mixed >> 27n)) * 0x94d049bb133111ebn) & WORD64;
    yield mixed ^ (mixed >> 31n);
  }
}

/** What a stream is for; the number is part of its seed, so never renumber. */
const PURPOSE = {
  admissions: 1,
  truthLabs: 2,
  rhythm: 3,
  contacts: 4,
  lesions: 5,
  harm: 6,
  drugs: 7,
  baseline: 8,
  identity: 9,
  procedure: 10,
  aftermath: 11,
  record: 12,
  device: 13,
} as const;
type Purpose = keyof typeof PURPOSE;

/** The stream of one purpose: of one patient, one procedure of a patient, or one simulated lab. */
export function streamOf(seed: number, purpose: Purpose, index = 0, subIndex = 0): RandomStream {
  let key = BigInt(seed);
  for (const part of [PURPOSE[purpose], index, subIndex]) {
    key = splitMix64(key ^ (BigInt(part + 1) * GOLDEN)).next().value;
  }
  const words = splitMix64(key);
  const [a, b] = [words.next().value, words.next().value];
  return new RandomStream([low(a), low(a >> 32n), low(b), low(b >> 32n)]);
}

const low = (word: bigint): number => Number(word & 0xffff_ffffn);
