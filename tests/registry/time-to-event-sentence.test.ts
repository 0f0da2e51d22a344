import { describe, expect, it } from 'vitest';
import type { EndpointRules } from '@/lib/registry/endpoint-definition';
import { deriveOutcomes } from '@/lib/registry/time-to-event';
import { explainOutcome } from '@/lib/registry/time-to-event-sentence';
import { cohortOf, EMPTY_CASE, recorded, type TestCase } from './time-to-event-cases';
import { BASE, episode, MUST_BE_OFF, NO_BLANKING, RESUMPTION, sinus } from './time-to-event-truth-table';

function explained(known: Partial<TestCase>, changed: Partial<EndpointRules> = {}): string {
  const cohort = cohortOf([{ ...EMPTY_CASE, ...known }]);
  return explainOutcome(cohort, deriveOutcomes(cohort, { ...BASE, ...changed }), 0);
}

describe('why a case is free', () => {
  it('names the last recording and how much it saw', () => {
    expect(explained({ recordings: [sinus(406, { endDay: 412, grade: '7d' })] })).toBe(
      'Free of arrhythmia to day 412, the last recording (7 days) that found none.',
    );
  });
  it('says failure when more than arrhythmia can end freedom', () => {
    expect(explained({ recordings: [sinus(412, { grade: 'continuous' })] }, { repeatRule: 'failure' })).toBe(
      'Free of failure to day 412, the last recording (continuous) that found none.',
    );
  });
  it('names a rhythm that was found and does not count', () => {
    expect(explained({ recordings: [recorded('afl-atypical', 412)] }, { rhythms: 'af' })).toBe(
      'Free of arrhythmia to day 412, the last recording (ECG) that found nothing that counts (atypical flutter).',
    );
  });
  it('names what ended the time', () => {
    expect(explained({ recordings: [sinus(150)], next: 200 })).toBe(
      'Free of arrhythmia to day 150, the last recording (ECG) that found none up to the repeat ablation on day 200.',
    );
    expect(explained({ recordings: [sinus(150)], death: 300 })).toBe(
      'Free of arrhythmia to day 150, the last recording (ECG) that found none up to death on day 300.',
    );
    expect(explained({ recordings: [sinus(150), sinus(300)], drugReviews: [160] }, MUST_BE_OFF)).toBe(
      'Free of failure to day 150, the last recording (ECG) that found none while class I and III drugs were known; what came later is not looked at.',
    );
  });
});

describe('why a case has an event', () => {
  it.each([
    [{ recordings: [episode(131, 95, { grade: 'ecg' })] }, {}, 'AF of 95 s on day 131, ECG.'],
    [{ recordings: [recorded('af', 131)] }, {}, 'AF that filled the whole tracing on day 131, ECG.'],
    [
      { recordings: [recorded('at', 131, { seconds: 10 })] },
      {},
      'AT of 10 s, the whole tracing, on day 131, ECG.',
    ],
    [{ recordings: [episode(131, null)] }, { minimumSeconds: 0 }, 'AF of unknown length on day 131, 24 h.'],
    [
      { recordings: [recorded('afl-typical', 131, { symptomatic: true })] },
      { symptomaticOnly: true },
      'Symptomatic typical flutter that filled the whole tracing on day 131, ECG.',
    ],
    [
      { recordings: [episode(88, 400_000, { endDay: 92 })] },
      {},
      'AF of 400000 s from day 88, during blanking, to day 92: counts on day 91, 24 h.',
    ],
    [{ cardioversions: [131] }, { cardioversionCounts: true }, 'Cardioversion on day 131.'],
    [{ drugs: [{ start: 131, stop: null }] }, MUST_BE_OFF, 'Class I or III drug started on day 131.'],
    [
      { drugs: [{ start: 131, stop: null }] },
      RESUMPTION,
      'Class I or III drug started on day 131 after at least one drug-free day.',
    ],
    [
      { drugs: [{ start: -9, stop: 120 }] },
      MUST_BE_OFF,
      'On a class I or III drug on day 91, the first day that counts.',
    ],
    [{ next: 131 }, { repeatRule: 'failure' }, 'Repeat ablation on day 131.'],
    [
      { next: 40 },
      { repeatRule: 'failure' },
      'Repeat ablation on day 40, during blanking: counts on day 91.',
    ],
    [{ death: 131 }, { deathRule: 'failure' }, 'Died on day 131: death is failure.'],
    [{ death: 131 }, { deathRule: 'competing' }, 'Died on day 131 with no event before.'],
  ] satisfies [Partial<TestCase>, Partial<EndpointRules>, string][])('%#: %j', (known, changed, sentence) => {
    expect(explained(known, changed)).toBe(sentence);
  });
});

it('explains the worked example of docs/methods/endpoint.md', () => {
  const recordings = [recorded('af', 40), sinus(120), episode(180, 12), episode(245, 95)];
  expect(explained({ recordings })).toBe('AF of 95 s on day 245, 24 h.');
  expect(explained({ recordings: recordings.slice(0, 3) })).toBe(
    'Free of arrhythmia to day 180, the last recording (24 h) that found nothing that counts (AF of 12 s).',
  );
  expect(explained({ recordings: recordings.slice(0, 1) })).toBe('Not analysed: no recording after day 90.');
});

describe('why a case is not analysed', () => {
  it.each([
    [{}, {}, 'Not analysed: no recording after day 90.'],
    [{}, NO_BLANKING, 'Not analysed: no recording from day 0 on.'],
    [{ recordings: [episode(120, null)] }, {}, 'Not analysed: no qualifying recording after day 90.'],
    [
      { recordings: [sinus(120)] },
      { evidenceForFreedom: '7d' },
      'Not analysed: no qualifying recording after day 90.',
    ],
    [{ ordinal: 2 }, {}, 'Not analysed: procedure 2 of the patient, not the first.'],
    [
      { next: 200 },
      { start: 'last-procedure', repeatRule: 'new-start' },
      'Not analysed: not the last procedure of the patient, the next was on day 200.',
    ],
    [{ next: 40 }, {}, 'Not analysed: repeat ablation on day 40, during blanking.'],
    [{ death: 40 }, {}, 'Not analysed: died on day 40, during blanking.'],
    [{ next: 200 }, {}, 'Not analysed: no recording between day 90 and the repeat ablation on day 200.'],
    [{ death: 200 }, {}, 'Not analysed: no recording between day 90 and death on day 200.'],
    [
      { recordings: [sinus(200)] },
      MUST_BE_OFF,
      'Not analysed: after day 90 no qualifying recording while class I and III drugs were known.',
    ],
  ] satisfies [Partial<TestCase>, Partial<EndpointRules>, string][])('%#: %j', (known, changed, sentence) => {
    expect(explained(known, changed)).toBe(sentence);
  });

  it('says so when the case was left out by the filter', () => {
    const cohort = cohortOf([EMPTY_CASE]);
    const outcomes = deriveOutcomes(cohort, BASE, new Uint8Array(1));
    expect(explainOutcome(cohort, outcomes, 0)).toBe('Not in this selection of cases.');
  });
});
