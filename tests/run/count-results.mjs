import { readFileSync } from 'node:fs';

/** @typedef {{ passed: number, failed: number, leftOut: number }} Counts */

/**
 * Counts a Vitest JSON report. A file that could not be loaded holds no test and counts as one failure.
 * @param {string} file
 * @returns {Counts}
 */
export function countVitest(file) {
  const report = JSON.parse(readFileSync(file, 'utf8'));
  /** @type {{ status: string, assertionResults: { status: string }[] }[]} */
  const files = report.testResults;
  const tests = files.flatMap((one) => one.assertionResults);
  const withStatus = (/** @type {string} */ status) => tests.filter((one) => one.status === status).length;
  const broken = files.filter(
    (one) => one.status === 'failed' && !one.assertionResults.some((test) => test.status === 'failed'),
  ).length;
  const [passed, failed] = [withStatus('passed'), withStatus('failed')];
  return { passed, failed: failed + broken, leftOut: tests.length - passed - failed };
}

/**
 * Counts a Playwright JSON report. A test that passes only when repeated counts as failed.
 * @param {string} file
 * @returns {Counts}
 */
export function countPlaywright(file) {
  const { stats, errors } = JSON.parse(readFileSync(file, 'utf8'));
  return {
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
    leftOut: stats.skipped,
  };
}
