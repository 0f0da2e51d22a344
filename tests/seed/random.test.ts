import { describe, expect, it } from 'vitest';
import { RandomStream, splitMix64, streamOf } from '@/seed/random';

describe('random numbers', () => {
  // xoshiro128** 1.1 from state 1, 2, 3, 4: the vector that independent implementations of the authors' C code agree on.
  it('gives the published outputs of xoshiro128**', () => {
    const stream = new RandomStream([1, 2, 3, 4]);
    const outputs = Array.from({ length: 10 }, () => stream.next());
    expect(outputs).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  // SplitMix64 with seed 1234567: Rosetta Code, "Pseudo-random numbers/Splitmix64".
  it('gives the published outputs of SplitMix64', () => {
    const words = splitMix64(1234567n);
    expect(Array.from({ length: 5 }, () => words.next().value)).toEqual([
      6457827717110365317n,
      3203168211198807973n,
      9817491932198370423n,
      4593380528125082431n,
      16408922859458223821n,
    ]);
  });

  it('gives each purpose, patient and procedure a stream of its own, the same each time', () => {
    const first = (stream: RandomStream) => stream.next();
    const streams = [
      streamOf(1, 'rhythm', 0, 0),
      streamOf(1, 'rhythm', 0, 1),
      streamOf(1, 'rhythm', 1, 0),
      streamOf(1, 'harm', 0, 0),
      streamOf(2, 'rhythm', 0, 0),
    ];
    expect(new Set(streams.map(first)).size).toBe(streams.length);
    expect(first(streamOf(1, 'rhythm', 0, 1))).toBe(first(streamOf(1, 'rhythm', 0, 1)));
  });

  it('has the moments of its distributions within five standard errors', () => {
    const stream = streamOf(7, 'harm');
    const n = 200_000;
    const mean = (draw: () => number) => Array.from({ length: n }, draw).reduce((a, b) => a + b, 0) / n;
    const within = (value: number, expected: number, deviation: number) =>
      expect(Math.abs(value - expected)).toBeLessThan((5 * deviation) / Math.sqrt(n));
    within(
      mean(() => stream.uniform()),
      0.5,
      Math.sqrt(1 / 12),
    );
    within(
      mean(() => stream.normal(3, 2)),
      3,
      2,
    );
    within(
      mean(() => stream.normal(0, 1) ** 2),
      1,
      Math.SQRT2,
    );
    within(
      mean(() => stream.exponential(4)),
      4,
      4,
    );
    within(
      mean(() => Number(stream.choose({ a: 3, b: 1 }) === 'b')),
      0.25,
      0.44,
    );
  });

  it('refuses a state that can only give zeros', () => {
    expect(() => new RandomStream([0, 0, 0, 0])).toThrow(RangeError);
  });
});
