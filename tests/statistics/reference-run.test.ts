import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { compareAnswer, describeMismatch } from '../reference-run/compare';
import { ADAPTERS } from '../reference-run/methods';
import { type FoundCase, readCase, readCases } from '../reference-run/reference-case';
import { type Adapter, runCases } from '../reference-run/run-cases';

const TOLERANCE = { rel: 1e-6, abs: 1e-9 };
const paths = (got: unknown, expected: unknown): string[] =>
  compareAnswer(got, expected, TOLERANCE).map(({ path }) => path);

describe('comparison of an answer with what a case expects', () => {
  it('allows abs + rel |expected| and not more', () => {
    expect(paths({ a: 100 + 99e-6 }, { a: 100 })).toEqual([]);
    expect(paths({ a: 100 + 102e-6 }, { a: 100 })).toEqual(['a']);
    expect(paths({ a: 0.9e-9 }, { a: 0 })).toEqual([]);
    expect(paths({ a: 1.1e-9 }, { a: 0 })).toEqual(['a']);
    expect(paths({ a: -100 }, { a: 100 })).toEqual(['a']);
  });

  it('finds the planted mismatch wherever it stands', () => {
    const expected = {
      n: 3,
      curve: { time: [1, 2], rows: [[1, 2], [3]] },
      groups: ['a', 'b'],
      defined: true,
    };
    expect(paths(structuredClone(expected), expected)).toEqual([]);
    expect(paths({ ...expected, n: 4 }, expected)).toEqual(['n']);
    const curve = { time: [1, 2.1], rows: [[1, 2.1], [3]] };
    expect(paths({ ...expected, curve }, expected)).toEqual(['curve.time[1]', 'curve.rows[0][1]']);
    expect(paths({ ...expected, groups: ['b', 'a'] }, expected)).toEqual(['groups[0]', 'groups[1]']);
    expect(paths({ ...expected, defined: false }, expected)).toEqual(['defined']);
    expect(paths({ ...expected, n: '3' }, expected)).toEqual(['n']);
  });

  it('counts a key that the answer lacks, and none that the case does not ask for', () => {
    expect(paths({ a: 1, more: 2 }, { a: 1 })).toEqual([]);
    expect(paths({ a: 1 }, { a: 1, b: { c: null } })).toEqual(['b']);
    expect(paths({}, { toString: 1 })).toEqual(['toString']);
    expect(paths(undefined, { a: 1 })).toEqual(['a']);
    expect(paths({ a: undefined }, { a: null })).toEqual(['a']);
    expect(paths({ a: [1] }, { a: { 0: 1 } })).toEqual(['a.0']);
  });

  it('holds lists to their length and takes typed arrays for lists', () => {
    expect(paths({ a: Float64Array.of(1, 2) }, { a: [1, 2] })).toEqual([]);
    expect(paths({ a: [1] }, { a: [1, 2] })).toEqual(['a.length']);
    expect(paths({ a: [1, 2, 3] }, { a: [1, 2] })).toEqual(['a.length']);
    expect(paths({ a: [] }, { a: [null] })).toEqual(['a.length']);
    expect(paths({ a: 1 }, { a: [1] })).toEqual(['a']);
    expect(paths({ a: [1] }, { a: 1 })).toEqual(['a']);
  });

  it('takes null and NaN for one, and nothing else for them', () => {
    for (const missing of [null, 'NaN', Number.NaN]) {
      expect(paths({ a: missing }, { a: null })).toEqual([]);
      expect(paths({ a: missing }, { a: 'NaN' })).toEqual([]);
      expect(paths({ a: missing }, { a: 0 })).toEqual(['a']);
      expect(paths({ a: missing }, { a: 'Inf' })).toEqual(['a']);
    }
    expect(paths({ a: 0 }, { a: null })).toEqual(['a']);
    expect(paths({ a: 0 }, { a: 'NaN' })).toEqual(['a']);
    expect(paths({ a: 'not estimable' }, { a: null })).toEqual(['a']);
  });

  it('tells the infinities apart, written as words or as numbers', () => {
    expect(paths({ a: Number.POSITIVE_INFINITY, b: '-Inf' }, { a: 'Inf', b: '-Inf' })).toEqual([]);
    expect(paths({ a: '-Inf' }, { a: 'Inf' })).toEqual(['a']);
    expect(paths({ a: 1e308 }, { a: 'Inf' })).toEqual(['a']);
    expect(paths({ a: 'Inf' }, { a: 1e308 })).toEqual(['a']);
  });
});

describe('limits of a survival curve', () => {
  const expected = {
    surv: [1, 0.5, 0],
    ci: { plain: { lower: [1, 0.2, null], upper: [null, 0.8, 'NaN'] } },
  };
  const answerWith = (lower: unknown, upper: unknown): unknown => ({
    surv: [1, 0.5, 0],
    ci: { plain: { lower, upper } },
  });

  it('may be 1 or missing where S is 1', () => {
    for (const start of [1, null, Number.NaN])
      expect(paths(answerWith([start, 0.2, null], [start, 0.8, null]), expected)).toEqual([]);
    expect(paths(answerWith([0.9, 0.2, null], [1.1, 0.8, null]), expected)).toEqual([
      'ci.plain.lower[0]',
      'ci.plain.upper[0]',
    ]);
  });

  it('must be missing where S is 0, whatever the case has there', () => {
    expect(paths(answerWith([1, 0.2, 0], [1, 0.8, 0]), expected)).toEqual([
      'ci.plain.lower[2]',
      'ci.plain.upper[2]',
    ]);
    const withZeros = { surv: [0], plain: { lower: [0], upper: [0] } };
    expect(paths({ surv: [0], plain: { lower: [null], upper: [null] } }, withZeros)).toEqual([]);
    expect(paths(structuredClone(withZeros), withZeros)).toEqual(['plain.lower[0]', 'plain.upper[0]']);
  });

  it('agree as all else in between', () => {
    expect(paths(answerWith([1, null, null], [1, 0.81, null]), expected)).toEqual([
      'ci.plain.lower[1]',
      'ci.plain.upper[1]',
    ]);
    expect(paths(answerWith([1, 0.2], 1), expected)).toEqual(['ci.plain.lower.length', 'ci.plain.upper']);
  });

  it('are no limits of quantiles, nor of anything that is no curve', () => {
    const quartiles = { surv: [1, 0.5, 0], quantiles: { plain: { lower: [4, 5, 6] } } };
    expect(paths({ ...quartiles, quantiles: { plain: { lower: [1, 5, null] } } }, quartiles)).toEqual([
      'quantiles.plain.lower[0]',
      'quantiles.plain.lower[2]',
    ]);
    expect(paths({ lower: [null] }, { lower: [1] })).toEqual(['lower[0]']);
  });

  it('leave alone what the cases say to ignore', () => {
    expect(paths({}, { quantileFunctionDiffers: { plain: [1] } })).toEqual([]);
  });
});

describe('a run over cases', () => {
  const text = (more: Record<string, unknown>): string =>
    JSON.stringify({
      id: 'one',
      method: 'sum',
      params: [],
      data: { x: [1, 2] },
      expected: { sum: 3 },
      tolerance: { rel: 1e-6, abs: 0 },
      ...more,
    });
  const sumOf: Adapter = ({ data }) => ({
    sum: Array.isArray(data.x) ? data.x.reduce((sum: number, each: number) => sum + each, 0) : null,
  });
  const adapters = new Map([['sum', sumOf]]);
  const run = (...found: FoundCase[][]): ReturnType<typeof runCases> => runCases(found.flat(), adapters);

  it('passes what agrees, an empty list standing for no parameters', () => {
    const [found] = readCase('one.json', text({}));
    expect(found.kind === 'case' && found.one.params).toEqual({});
    expect(run([found])).toEqual({ lines: [], passed: 1, failed: 0 });
  });

  it('prints case, path, what it got, what was expected and how far apart they are', () => {
    const report = run(readCase('a', text({ expected: { sum: 4, mean: 1.5 } })), readCase('b', text({})));
    expect(report).toEqual({
      lines: [
        'one: sum: got 3, expected 4, relative difference 2.50e-1',
        'one: mean: got no such key, expected 1.5',
      ],
      passed: 1,
      failed: 1,
    });
  });

  it('fails a method without adapter, an exception and a case that cannot be read', () => {
    const { lines, passed, failed } = runCases(
      [
        ...readCase('a', text({ id: 'unknown', method: 'nothing' })),
        ...readCase('b', text({ id: 'thrown', method: 'throws' })),
        ...readCase('c.json', text({ tolerance: 1 })),
        ...readCase('d.json', '{'),
      ],
      new Map<string, Adapter>([
        [
          'throws',
          () => {
            throw new Error('no such column');
          },
        ],
      ]),
    );
    expect([passed, failed]).toEqual([0, 4]);
    expect(lines.map((line) => line.split('\n')[0])).toEqual([
      'unknown: no adapter for the method nothing',
      'thrown: Error: no such column',
      expect.stringMatching(/^c\.json: cannot be read: /),
      expect.stringMatching(/^d\.json: cannot be read: no JSON: /),
    ]);
  });

  it('writes long values short', () => {
    const [difference] = compareAnswer({}, { list: Array(100).fill(1) }, TOLERANCE);
    expect(describeMismatch(difference).length).toBeLessThan(160);
  });

  it('reads the objects with id and method directly in the folder, and no others', () => {
    const folder = mkdtempSync(join(tmpdir(), 'cases-'));
    try {
      mkdirSync(join(folder, 'below.json'));
      writeFileSync(join(folder, 'below.json', 'case.json'), text({}));
      writeFileSync(join(folder, 'b.json'), text({ id: 'b' }));
      writeFileSync(join(folder, 'a.json'), text({ id: 'a' }));
      writeFileSync(join(folder, 'index.json'), '[{"id": "a", "method": "sum"}]');
      writeFileSync(join(folder, 'other.json'), '{"id": "special"}');
      writeFileSync(join(folder, 'notes.txt'), text({}));
      const found = readCases(folder);
      expect(found.map((each) => (each.kind === 'case' ? each.one.id : each.name))).toEqual(['a', 'b']);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('finds the adapter of every method in the file of its name', () => {
    const folder = join(import.meta.dirname, '../reference-run/methods');
    expect(ADAPTERS.size).toBeGreaterThan(0);
    for (const method of ADAPTERS.keys()) expect(readdirSync(folder)).toContain(`${method}.ts`);
  });
});
