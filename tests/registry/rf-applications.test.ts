import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { lesionValuesOf } from '@/lib/registry/forms/lesion-values';
import { disagreementsWithFile } from '@/lib/registry/lesion-flags';
import { shownSet } from '@/lib/registry/lesion-set';
import {
  APPLICATION_COLUMNS,
  applicationFlags,
  applicationsBySegment,
  type RfApplication,
  readApplication,
  totalsInWords,
} from '@/lib/registry/rf-applications';
import { element, USUAL } from './lesion-sets';

const application = (facts: Partial<RfApplication> = {}): RfApplication => ({
  structure: 'left-pair',
  segment: 'superior',
  startSecond: null,
  seconds: 20,
  powerW: null,
  temperatureC: null,
  impedanceStartOhm: null,
  impedanceLowestOhm: null,
  amplitudeBeforeUv: null,
  amplitudeAfterUv: null,
  ...facts,
});
const row = (cells: Partial<Record<(typeof APPLICATION_COLUMNS)[number], string>>) =>
  APPLICATION_COLUMNS.map(
    (column) =>
      ({ structure: 'left-pair', segment: 'superior', seconds: '20', ...cells })[column as 'seconds'] ?? '',
  );

describe('one application', () => {
  it('is read whole', () => {
    const cells = ['right-pair', 'anterior-carina', '125', '30.5', '35', '41.5', '118', '102', '1.2', '.08'];
    expect(readApplication(cells)).toEqual({
      kind: 'read',
      application: {
        structure: 'right-pair',
        segment: 'anterior-carina',
        startSecond: 125,
        seconds: 30.5,
        powerW: 35,
        temperatureC: 41.5,
        impedanceStartOhm: 118,
        impedanceLowestOhm: 102,
        amplitudeBeforeUv: 1200,
        amplitudeAfterUv: 80,
      },
    });
  });

  it('of a line needs no segment', () => {
    expect(readApplication(row({ structure: 'roof', segment: '' }))).toMatchObject({
      application: { structure: 'roof', segment: 'line' },
    });
  });

  it.each([
    [{ structure: 'left' }, ['structure']],
    [{ segment: 'anterior' }, ['segment']],
    [{ seconds: '' }, ['seconds']],
    [{ seconds: '20,5' }, ['seconds']],
    [{ seconds: '3601' }, ['seconds']],
    [{ power_w: '-3' }, ['power_w']],
    [{ impedance_start_ohm: '118.5' }, ['impedance_start_ohm']],
    [{ amplitude_after_mv: '80' }, ['amplitude_after_mv']],
    [{ structure: 'x', seconds: 'y', temperature_c: 'hot' }, ['structure', 'seconds', 'temperature_c']],
  ])('%j is refused, all of it at once', (cells, columns) => {
    const reading = readApplication(row(cells));
    expect(reading.kind === 'refused' && reading.problems.map(({ column }) => column)).toEqual(columns);
  });
});

describe('applications of a segment', () => {
  it('add up; the first amplitude before and the last after are those of the segment', () => {
    const sums = applicationsBySegment([
      application({ seconds: 20.4, amplitudeAfterUv: 400 }),
      application({ structure: 'roof', segment: 'line', seconds: 12 }),
      application({ seconds: 20.4, amplitudeBeforeUv: 900, amplitudeAfterUv: 200 }),
      application({ seconds: 20.4, amplitudeBeforeUv: 300 }),
    ]);
    expect(sums).toEqual([
      {
        structure: 'left-pair',
        segment: 'superior',
        applications: 3,
        totalSeconds: 61,
        longestSeconds: 20,
        amplitudeBeforeUv: 900,
        amplitudeAfterUv: 200,
      },
      {
        structure: 'roof',
        segment: 'line',
        applications: 1,
        totalSeconds: 12,
        longestSeconds: 12,
        amplitudeBeforeUv: null,
        amplitudeAfterUv: null,
      },
    ]);
  });

  it('always fill a segment that the form takes', () => {
    const tenths = fc.integer({ min: 1, max: 1200 });
    fc.assert(
      fc.property(fc.array(tenths, { minLength: 1, maxLength: 40 }), (durations) => {
        const [sums] = applicationsBySegment(durations.map((one) => application({ seconds: one / 10 })));
        const set = element('left-pair', 'superior', sums);
        const values = lesionValuesOf(
          {
            veins: USUAL,
            measuredInRhythm: null,
            settledStrategy: null,
            entranceBlock: null,
            exitBlock: null,
            waitingMinutes: null,
            drugChallenge: null,
            drugChallengeResult: null,
            elements: [set],
          },
          1,
        );
        expect(lesionFormSchema.safeParse(values).success).toBe(true);
      }),
    );
  });

  it('are told in words', () => {
    expect(totalsInWords([application({ seconds: 30.5 }), application({ seconds: 74 })])).toBe(
      '2 applications, 1.7 min in all, the longest 74 s',
    );
    expect(totalsInWords([application()])).toBe('1 application, 0.3 min in all, the longest 20 s');
  });

  it('are compared with the set they once filled', () => {
    const set = shownSet({
      energy: 'radiofrequency',
      veins: USUAL,
      elements: [element('left-pair', 'superior', { applications: 2 })],
    });
    expect(disagreementsWithFile(set, [application(), application()])).toEqual([]);
    expect(disagreementsWithFile(set, [application()])).toEqual([
      'Left pair, superior: 1 in the file of applications, 2 in the set.',
    ]);
  });
});

describe('flags of single applications', () => {
  // Settings from memory; 60 s is common practice without a source.
  it.each<[string, Partial<RfApplication>, RegExp | null]>([
    ['60 s', { seconds: 60 }, null],
    ['60.1 s', { seconds: 60.1 }, /60\.1 s \(longer than 60 s\)/],
    ['10 W', { powerW: 10 }, null],
    ['9.9 W', { powerW: 9.9 }, /less than 10 W/],
    ['50 W', { powerW: 50 }, null],
    ['51 W for 20 s', { powerW: 51 }, /more than 50 W/],
    ['90 W for 4 s', { powerW: 90, seconds: 4 }, null],
    ['90 W for 5 s', { powerW: 90, seconds: 5 }, /more than 50 W/],
    ['91 W for 4 s', { powerW: 91, seconds: 4 }, /more than 50 W/],
    ['45 °C', { temperatureC: 45 }, null],
    ['45.1 °C', { temperatureC: 45.1 }, /more than 45 °C/],
    ['a fall by 10 Ω', { impedanceStartOhm: 110, impedanceLowestOhm: 100 }, null],
    ['a fall by 9 Ω', { impedanceStartOhm: 109, impedanceLowestOhm: 100 }, /fell by 9 Ω/],
    ['a rise', { impedanceStartOhm: 100, impedanceLowestOhm: 130 }, /rose from 100 to 130 Ω/],
    ['half a measurement', { impedanceStartOhm: 100 }, null],
  ])('%s', (_what, facts, words) => {
    const flags = applicationFlags([application(facts)]);
    expect(flags).toEqual(words === null ? [] : [expect.stringMatching(words)]);
  });

  it('name the application by its number and place', () => {
    expect(applicationFlags([application(), application({ seconds: 74 })])).toEqual([
      'Application 2, Left pair, superior: 74 s (longer than 60 s).',
    ]);
  });
});

describe('applications in the form of a lesion set', () => {
  const parse = (applications: unknown) => {
    const stored = { veins: USUAL, measuredInRhythm: null, settledStrategy: null, elements: [] };
    const acute = {
      entranceBlock: null,
      exitBlock: null,
      waitingMinutes: null,
      drugChallenge: null,
      drugChallengeResult: null,
    };
    return lesionFormSchema.safeParse({ ...lesionValuesOf({ ...stored, ...acute }, 1), applications });
  };

  it('are left as they are by nothing, and read again row by row', () => {
    expect(parse(null).data?.applications).toBeNull();
    expect(parse([]).data?.applications).toEqual([]);
    expect(parse([row({})]).data?.applications).toEqual([application()]);
  });

  it.each([
    ['a row too short', [['left-pair']]],
    ['a row that cannot be read', [row({}), row({ seconds: 'x' })]],
    ['too many of them', Array.from({ length: 2001 }, () => row({}))],
    ['a cell without end', [row({ power_w: '1'.repeat(65) })]],
  ])('%s is refused', (_what, applications) => {
    expect(parse(applications).success).toBe(false);
  });
});
