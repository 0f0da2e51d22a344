import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { countPlaywright, countVitest } from '../run/count-results.mjs';
import { temporaryFolder } from './temporary-folder';

function report(content: object): string {
  const file = path.join(temporaryFolder(), 'report.json');
  writeFileSync(file, JSON.stringify(content));
  return file;
}
const tests = (...statuses: string[]) => statuses.map((status) => ({ status }));

test('tests are counted one by one; a file that could not be loaded counts as one failure', () => {
  const testResults = [
    { status: 'passed', assertionResults: tests('passed', 'passed', 'skipped') },
    { status: 'failed', assertionResults: tests('passed', 'failed', 'todo') },
    { status: 'failed', assertionResults: [] },
    { status: 'failed', assertionResults: tests('passed') },
  ];
  expect(countVitest(report({ testResults }))).toEqual({ passed: 4, failed: 3, leftOut: 2 });
});

test('a browser test that passes only when repeated counts as failed, and so does an error outside the tests', () => {
  const stats = { expected: 5, unexpected: 1, flaky: 2, skipped: 3 };
  expect(countPlaywright(report({ stats, errors: [{ message: 'set-up' }] }))).toEqual({
    passed: 5,
    failed: 4,
    leftOut: 3,
  });
});
