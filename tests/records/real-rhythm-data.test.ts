import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { OutcomesAnalysis, Series } from '@/lib/analysis/outcomes/outcomes-analysis';
import type { Cohort } from '@/lib/registry/cohort';
import type { EndpointDefinition } from '@/lib/registry/endpoint-definition';
import { openTestDatabase, type TestDatabase } from '../support/database';
import { fixtureFolder } from '../support/fixtures';
import { openImportPlace } from './import-place';
import {
  type HandCase,
  handCases,
  handLogRank,
  handMedian,
  handPoint,
  readHandReadings,
} from './rhythm-by-hand';

/**
 * Rhythm readings of a published randomised trial of surgical ablation (Gillinov et al., N Engl J Med 2015;372:1399-1408),
 * as distributed in the R package boostmtree 1.5.1, licence GPL (>= 3): the file is read from AFTERBEAT_FIXTURES and never
 * stored in this repository. The numbers beside it were computed by R 4.2.2, survival 3.5-3.
 */
const fixtures = fixtureFolder('af_rhythm_long.csv');
if (!fixtures) console.log('real rhythm data: left out, AFTERBEAT_FIXTURES names no folder that holds them.');

const MAPPING = {
  source: 'Rhythm readings of a trial of surgical ablation',
  columns: { patient: 'id', time: 'time_months', rhythm: 'af', group: 'rand_grp', sex: 'female', age: 'age' },
  time: { unit: 'months', daysPerMonth: 30.4375, rounding: 'nearest' },
  dayZero: '2015-04-09',
  rhythms: { '0': 'sinus', '1': 'af' },
  reading: { kind: 'rhythm-strip', counts: 'whole-tracing' },
  groups: { '1': 'group 1', '2': 'group 2' },
  sexes: { '0': 'male', '1': 'female' },
};

const numbers = z.array(z.number());
const block = z.object({ day: numbers, nRisk: numbers, surv: numbers, lower: numbers, upper: numbers });
const caseSchema = z.object({
  blankingDays: z.number(),
  patientsInAnalysis: z.number(),
  excludedNoReadingAfterBlanking: z.number(),
  events: z.number(),
  all: block.extend({ median: z.number() }),
  byGroup: z.array(block.extend({ group: z.number(), n: z.number(), events: z.number() })),
  logRankChisq: z.number(),
  sumDays: z.number(),
});
const expectedSchema = z.object({ cases: z.record(z.string(), caseSchema) });
const DAYS = [120, 180, 270, 365];

describe.runIf(fixtures)('rhythm readings of a published trial', () => {
  const folder = fixtures ?? '';
  const file = path.join(folder, 'af_rhythm_long.csv');
  let database: TestDatabase;
  let cohort: Cohort;
  let definitions: readonly EndpointDefinition[];
  let outcomes: typeof import('@/lib/analysis/outcomes/outcomes-analysis');
  let statistics: typeof import('@/lib/statistics/index');
  let question: typeof import('@/lib/analysis/outcomes/question');
  let query: typeof import('@/lib/analysis/outcomes/outcomes-query');
  let said: readonly string[];

  beforeAll(async () => {
    database = await openTestDatabase();
    const place = await openImportPlace();
    const answer = await place.importFile(file, MAPPING, ['--publish']);
    expect(answer.code).toBe(0);
    said = answer.said;
    await place.leave();
    const { readCohort } = await import('@/lib/records/cohort');
    const { readEndpointDefinitions } = await import('@/lib/records/endpoint-definitions/read');
    cohort = await readCohort(place.actor);
    definitions = await readEndpointDefinitions(place.actor);
    outcomes = await import('@/lib/analysis/outcomes/outcomes-analysis');
    statistics = await import('@/lib/statistics/index');
    question = await import('@/lib/analysis/outcomes/question');
    query = await import('@/lib/analysis/outcomes/outcomes-query');
  });

  afterAll(async () => {
    const { closeRecords } = await import('@/lib/records/close');
    await closeRecords();
    await database.close();
  });

  /** From an address to the numbers, as the page goes. */
  function analyse(blankingDays: number, isInclusive: boolean): OutcomesAnalysis {
    const definition = definitions.find(({ name }) => name === 'Any AF, AT or AFL, drugs ignored');
    const read = query.readOutcomesQuery({
      definition: definition?.id,
      blanking: String(blankingDays),
      endInclusive: isInclusive ? 'yes' : 'no',
      by: 'cohort-tag',
    });
    const put = question.putQuestion(read, definitions);
    expect(put.findings.filter(({ kind }) => kind === 'refusal')).toEqual([]);
    if (!put.question) throw new Error('the question was refused');
    const { rules, query: asked } = put.question;
    return outcomes.analyseOutcomes(cohort, rules, asked.filter, asked.grouping);
  }

  function pointsOf(series: Series | undefined, days: readonly number[]) {
    if (!series) throw new Error('a group is missing');
    return statistics.survivalAt(series.curve, days).map((point) => {
      if (point.kind !== 'estimated' || point.interval.kind !== 'estimated') throw new Error('not estimable');
      const { survival, atRisk, interval } = point;
      return { survival, atRisk, lower: interval.lower, upper: interval.upper };
    });
  }

  function chiSquareOf({ logRank }: OutcomesAnalysis): number {
    if (logRank?.kind !== 'tested') throw new Error('no log-rank test');
    return logRank.chiSquare;
  }

  function medianOf(series: Series): number | undefined {
    const median = statistics.survivalQuantile(series.curve, 0.5);
    return median.kind === 'reached' ? median.timeDays : undefined;
  }

  const total = (column: ArrayLike<number>): number =>
    Array.from(column).reduce((sum, value) => sum + value, 0);

  it('are all read: 228 patients, 7,949 readings, nothing refused', () => {
    expect(said).toContain('Rows read: 7949');
    expect(said).toContain('Patients: 228 (group 1: 108; group 2: 120)');
    expect(said).toContain('Refused rows: 0');
    expect(cohort.size).toBe(228);
    expect(cohort.evidence.length / 5).toBe(7949);
  });

  const expected = fixtures
    ? expectedSchema.parse(JSON.parse(readFileSync(path.join(folder, 'expected.json'), 'utf8')))
    : { cases: {} };

  describe.each(Object.values(expected.cases))('against R, blanking of $blankingDays days', (wanted) => {
    it('counts the analysed, the excluded and the events', () => {
      const { outcomes: derived, overall } = analyse(wanted.blankingDays, true);
      expect(derived.analysed).toBe(wanted.patientsInAnalysis);
      expect(derived.excluded['no-recording-after-blanking'].length).toBe(
        wanted.excludedNoReadingAfterBlanking,
      );
      expect(derived.analysed + wanted.excludedNoReadingAfterBlanking).toBe(cohort.size);
      expect(overall.curve.eventTotal).toBe(wanted.events);
      expect(total(derived.timeDays)).toBe(wanted.sumDays);
    });

    it('finds survival, limits and numbers at risk, for all and by group', () => {
      const { overall, series } = analyse(wanted.blankingDays, true);
      const groups = wanted.byGroup.map((group) => ({
        ...group,
        series: series.find(({ label }) => label === `group ${group.group}`),
      }));
      for (const group of groups) {
        expect(group.series?.curve.n).toBe(group.n);
        expect(group.series?.curve.eventTotal).toBe(group.events);
      }
      for (const { series: one, day, nRisk, surv, lower, upper } of [
        { ...wanted.all, series: overall },
        ...groups,
      ]) {
        for (const [i, point] of pointsOf(one, day).entries()) {
          expect(point.atRisk).toBe(nRisk[i]);
          expect(Math.abs(point.survival - (surv[i] ?? Number.NaN))).toBeLessThan(1e-9);
          expect(Math.abs(point.lower - (lower[i] ?? Number.NaN))).toBeLessThan(1e-9);
          expect(Math.abs(point.upper - (upper[i] ?? Number.NaN))).toBeLessThan(1e-9);
        }
      }
    });

    it('finds the median and the log-rank test', () => {
      const analysis = analyse(wanted.blankingDays, true);
      expect(medianOf(analysis.overall)).toBe(wanted.all.median);
      expect(Math.abs(chiSquareOf(analysis) - wanted.logRankChisq)).toBeLessThan(1e-9);
    });
  });

  describe('against plain loops over the file', () => {
    const readings = fixtures ? readHandReadings(readFileSync(file, 'utf8')) : [];
    const rules = [
      0, 1, 7, 14, 28, 30, 42, 56, 60, 61, 84, 89, 90, 91, 92, 120, 150, 180, 240, 300, 364,
    ].flatMap((days) => [
      { days, isInclusive: true, words: 'inclusive' },
      { days, isInclusive: false, words: 'exclusive' },
    ]);

    it.each(rules)('blanking of $days days, $words', ({ days, isInclusive }) => {
      const byHand = handCases(readings, days, isInclusive);
      const analysis = analyse(days, isInclusive);
      const { outcomes: derived, overall, series } = analysis;
      expect(derived.analysed).toBe(byHand.length);
      expect(derived.excluded['no-recording-after-blanking'].length).toBe(cohort.size - byHand.length);
      expect(total(derived.timeDays)).toBe(byHand.reduce((sum, one) => sum + one.day, 0));
      expectSameCurve(overall, byHand);
      for (const code of ['1', '2']) {
        const inGroup = byHand.filter(({ group }) => group === code);
        expectSameCurve(
          series.find(({ label }) => label === `group ${code}`),
          inGroup,
        );
      }
      expect(Math.abs(chiSquareOf(analysis) - handLogRank(byHand, '1'))).toBeLessThan(1e-9);
    });

    function expectSameCurve(series: Series | undefined, byHand: readonly HandCase[]): void {
      if (!series) throw new Error('a group is missing');
      expect(series.curve.n).toBe(byHand.length);
      expect(series.curve.eventTotal).toBe(byHand.filter(({ isEvent }) => isEvent).length);
      expect(medianOf(series)).toBe(handMedian(byHand));
      const first = byHand.filter(({ isEvent }) => isEvent).map(({ day }) => day);
      // Before the first event there is no interval to compare.
      const days = DAYS.filter((day) => day >= Math.min(...first));
      for (const [i, point] of pointsOf(series, days).entries()) {
        const hand = handPoint(byHand, days[i] ?? 0);
        expect(point.atRisk).toBe(hand.atRisk);
        expect(Math.abs(point.survival - hand.survival)).toBeLessThan(1e-9);
        expect(Math.abs(point.lower - hand.lower)).toBeLessThan(1e-9);
        expect(Math.abs(point.upper - hand.upper)).toBeLessThan(1e-9);
      }
    }
  });
});
