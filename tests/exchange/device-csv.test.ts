import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DecodedDeviceDays, decodeDeviceCsv } from '@/lib/exchange/device-csv';
import { calendarDay } from '@/lib/registry/calendar-day';
import { makePatientCode } from '@/lib/registry/patient-code';

const TODAY = calendarDay('2026-11-25');
const CODE = makePatientCode(Uint8Array.from([1, 2, 3, 4]));
const OTHER = makePatientCode(Uint8Array.from([5, 6, 7, 8]));
const HEADS = 'patient,day,device,burden_seconds,longest_episode_seconds';
const decode = (text: string) => decodeDeviceCsv(new TextEncoder().encode(text), TODAY);

function decoded(text: string): DecodedDeviceDays {
  const answer = decode(text);
  if (answer.kind !== 'decoded') throw new Error(answer.finding.reason);
  return answer;
}
const one = (row: string, heads = HEADS) => decoded(`${heads}\n${row}\n`);

describe('a row of device days', () => {
  it('is read with its code in the written form', () => {
    expect(
      one(`${CODE.toLowerCase().replaceAll('-', '')},2026-01-31,Implanted monitor,5400,700`).rows,
    ).toEqual([
      {
        patientCode: CODE,
        day: '2026-01-31',
        device: 'implanted-monitor',
        burdenSeconds: 5400,
        longestEpisodeSeconds: 700,
        isRaised: false,
        rowNumber: 2,
      },
    ]);
  });

  it.each<[string, string, number, number | null]>([
    ['burden_seconds', '0', 0, null],
    ['burden_seconds', '86400', 86_400, null],
    ['burden_minutes', '90', 5400, null],
    ['burden_minutes', '1440', 86_400, null],
    ['burden_minutes', '0.5', 30, null],
    ['burden_percent', '0', 0, null],
    ['burden_percent', '100', 86_400, null],
    ['burden_percent', '0.1', 86, null],
    ['burden_percent', '12.5', 10_800, null],
  ])('%s %s is %i s', (column, burden, burdenSeconds, longestEpisodeSeconds) => {
    const { rows } = one(`${CODE},2026-01-31,pacemaker,${burden}`, `patient,day,device,${column}`);
    expect(rows).toMatchObject([{ burdenSeconds, longestEpisodeSeconds }]);
  });

  it('takes semicolons, decimal commas and columns in any order', () => {
    const { rows } = decoded(`DAY;Burden_Percent;device;patient\n2026-01-31;12,5;pacemaker;${CODE}\n`);
    expect(rows).toMatchObject([{ patientCode: CODE, burdenSeconds: 10_800 }]);
  });

  it('raises a rounded burden to its longest episode, within the rounding', () => {
    const heads = 'patient,day,device,burden_percent,longest_episode_seconds';
    expect(one(`${CODE},2026-01-31,pacemaker,0.1,129`, heads).rows).toMatchObject([
      { burdenSeconds: 129, longestEpisodeSeconds: 129, isRaised: true },
    ]);
    expect(one(`${CODE},2026-01-31,pacemaker,0.1,132`, heads).refusals).toMatchObject([
      { code: 'longest-over-the-burden' },
    ]);
  });

  it.each<[string, string, string]>([
    [
      'a code whose check character is wrong',
      `${CODE.slice(0, -1)}_,2026-01-31,pacemaker,0,`,
      'patient-code-wrong',
    ],
    ['a hospital number', '4711882,2026-01-31,pacemaker,0,', 'patient-code-wrong'],
    ['another way of writing a day', `${CODE},31.01.2026,pacemaker,0,`, 'day-not-a-day'],
    ['a day that does not exist', `${CODE},2026-02-30,pacemaker,0,`, 'day-not-a-day'],
    ['tomorrow', `${CODE},2026-11-26,pacemaker,0,`, 'day-in-the-future'],
    ['an unknown device', `${CODE},2026-01-31,watch,0,`, 'device-unknown'],
    ['a blank burden', `${CODE},2026-01-31,pacemaker,,`, 'burden-not-a-number'],
    ['a negative burden', `${CODE},2026-01-31,pacemaker,-1,`, 'burden-not-a-number'],
    ['more than a day', `${CODE},2026-01-31,pacemaker,86401,`, 'burden-over-a-day'],
    ['a longest episode that is no number', `${CODE},2026-01-31,pacemaker,60,1.5`, 'longest-not-a-number'],
    ['a longest episode over the burden', `${CODE},2026-01-31,pacemaker,60,62`, 'longest-over-the-burden'],
    [
      'a longest episode of nothing beside a burden',
      `${CODE},2026-01-31,pacemaker,60,0`,
      'longest-over-the-burden',
    ],
    ['too many cells', `${CODE},2026-01-31,pacemaker,0,,7`, 'cells-differ'],
  ])('%s is refused with row, reason and cure', (_what, row, code) => {
    const { rows, refusals } = one(row);
    expect(rows).toEqual([]);
    expect(refusals).toMatchObject([{ code, row: 2 }]);
    expect(refusals[0]?.reason).not.toBe('');
    expect(refusals[0]?.cure).not.toBe('');
  });

  it('never shows what may be an identifier', () => {
    const { refusals } = decoded(
      `${HEADS}\n4711882,2026-01-31,pacemaker,0,\n${CODE},2026-01-31,4711882,0,\n`,
    );
    expect(JSON.stringify(refusals)).not.toContain('4711882');
  });
});

describe('a file of device days', () => {
  it.each<[string, string, string]>([
    ['without a day', 'patient,device,burden_seconds', 'column-missing'],
    ['without a burden', 'patient,day,device', 'burden-unit-missing'],
    ['with two burdens', 'patient,day,device,burden_minutes,burden_percent', 'burden-unit-missing'],
    ['with a column that nobody knows', 'patient,day,device,burden_minutes,name', 'column-unknown'],
    ['with a column twice', 'patient,day,day,device,burden_minutes', 'column-twice'],
  ])('%s is refused', (_what, heads, code) => {
    expect(decode(`${heads}\na,b,c,d,e\n`)).toMatchObject({ kind: 'refused', finding: { code, row: null } });
  });

  it('takes once what it says twice', () => {
    const row = `${CODE},2026-01-31,pacemaker,60,30`;
    const answer = decoded(`${HEADS}\n${row}\n${row}\n,,,,\n${row}\n`);
    expect(answer).toMatchObject({ rowsRead: 3, blankRows: 1, repeatedRows: 2, refusals: [] });
    expect(answer.rows).toHaveLength(1);
  });

  it('refuses every row of a day that contradicts itself, and keeps the other days', () => {
    const answer = decoded(
      `${HEADS}\n${CODE},2026-01-31,pacemaker,60,30\n${OTHER},2026-01-31,pacemaker,60,30\n${CODE},2026-01-31,pacemaker,61,30\n`,
    );
    expect(answer.rows.map(({ patientCode }) => patientCode)).toEqual([OTHER]);
    expect(answer.refusals).toMatchObject([
      { code: 'two-values-for-a-day', row: 2, value: '2026-01-31' },
      {
        code: 'two-values-for-a-day',
        row: 4,
        reason: `Patient ${CODE} has another value for this day in row 2.`,
      },
    ]);
    expect(answer.repeatedRows).toBe(0);
  });

  it('accounts for every row: taken, repeated or refused', () => {
    const cell = fc.constantFrom('0', '60', '61', '90000', '', 'x');
    const row = fc.tuple(
      fc.constantFrom(CODE, OTHER, 'P-1'),
      fc.constantFrom('2026-01-01', '2026-01-02', '2027-01-01'),
      cell,
    );
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 12 }), (rows) => {
        const answer = decoded(
          `${HEADS}\n${rows.map(([code, day, burden]) => `${code},${day},pacemaker,${burden},`).join('\n')}\n`,
        );
        expect(answer.rows.length + answer.repeatedRows + answer.refusals.length).toBe(rows.length);
        expect(new Set(answer.rows.map(({ patientCode, day }) => `${patientCode} ${day}`)).size).toBe(
          answer.rows.length,
        );
      }),
      { numRuns: 500, seed: 20_261_203 },
    );
  });
});
