import { describe, expect, it } from 'vitest';
import { decodeDeviceCsv } from '@/lib/exchange/device-csv';
import { type KnownDevicePatient, planDeviceImport } from '@/lib/exchange/device-plan';
import { deviceReportOf, sayDeviceReport } from '@/lib/exchange/device-report';
import { publishDeviceDays } from '@/lib/exchange/publish-device-days';
import { calendarDay } from '@/lib/registry/calendar-day';
import type { DeviceDay } from '@/lib/registry/device-days';
import { makePatientCode } from '@/lib/registry/patient-code';

const CODE = makePatientCode(Uint8Array.from([1, 2, 3, 4]));
const OTHER = makePatientCode(Uint8Array.from([5, 6, 7, 8]));
const day = (text: string, burdenSeconds = 0, longestEpisodeSeconds: number | null = null): DeviceDay => ({
  day: calendarDay(text),
  device: 'pacemaker',
  burdenSeconds,
  longestEpisodeSeconds,
});
const known = (more: Partial<KnownDevicePatient> = {}): KnownDevicePatient => ({
  patientId: 'one',
  code: CODE,
  version: 1,
  birthYear: 1960,
  firstPerformedOn: '2026-01-10',
  diedOn: null,
  consentWithdrawnOn: null,
  isErased: false,
  storedDays: [],
  ...more,
});

function decodedOf(...rows: readonly string[]) {
  const text = `patient,day,device,burden_seconds,longest_episode_seconds\n${rows.join('\n')}\n`;
  const answer = decodeDeviceCsv(new TextEncoder().encode(text), calendarDay('2026-11-25'));
  if (answer.kind !== 'decoded') throw new Error(answer.finding.reason);
  return answer;
}
const row = (text: string, burden = 0, code = CODE) => `${code},${text},pacemaker,${burden},`;

describe('the plan of an import', () => {
  it('adds what is new, knows what is stored, and names what differs', () => {
    const decoded = decodedOf(row('2026-02-01', 60), row('2026-02-02'), row('2026-02-03', 70));
    const plan = planDeviceImport(decoded, [
      known({ storedDays: [day('2026-02-02'), day('2026-02-03', 71)] }),
    ]);
    expect(plan.patients).toEqual([
      {
        patientId: 'one',
        code: CODE,
        version: 1,
        adds: [day('2026-02-01', 60)],
        differing: [{ before: day('2026-02-03', 71), after: day('2026-02-03', 70) }],
      },
    ]);
    expect(plan.daysKnown).toBe(1);
    expect(plan.refusals).toEqual([]);
    expect(plan.differences).toMatchObject([
      {
        code: 'stored-differently',
        row: 4,
        reason: `Patient ${CODE}: stored is 71 s, longest not given; the file says 70 s, longest not given.`,
      },
    ]);
  });

  it.each<[string, Partial<KnownDevicePatient>, string, string]>([
    ['of somebody else', { code: OTHER }, '2026-02-01', 'patient-unknown'],
    ['of an erased patient', { isErased: true }, '2026-02-01', 'patient-erased'],
    ['before birth', {}, '1959-12-31', 'day-before-birth'],
    ['after death', { diedOn: '2026-01-31' }, '2026-02-01', 'day-after-death'],
    [
      'after consent was withdrawn',
      { consentWithdrawnOn: '2026-01-31' },
      '2026-02-01',
      'day-after-withdrawal',
    ],
  ])('refuses days %s', (_what, facts, text, code) => {
    const plan = planDeviceImport(decodedOf(row(text)), [known(facts)]);
    expect(plan.refusals).toMatchObject([{ code, row: 2 }]);
    expect(plan.patients).toEqual([]);
  });

  it('takes the day of death itself, and days before the first procedure as baseline', () => {
    const decoded = decodedOf(row('2026-01-09'), row('2026-01-10'), row('2026-01-31'));
    const plan = planDeviceImport(decoded, [known({ diedOn: '2026-01-31' })]);
    expect(plan.refusals).toEqual([]);
    expect(plan.baselineDays).toBe(1);
    expect(plan.patients[0]?.adds).toHaveLength(3);
  });
});

describe('the report', () => {
  it('counts what would be written and says what must be known', () => {
    const decoded = decodedOf(row('2026-01-09', 60), row('2026-02-01', 90), row('2026-02-03'));
    const report = deviceReportOf(decoded, planDeviceImport(decoded, [known()]));
    expect(report).toMatchObject({
      rowsRead: 3,
      patients: 1,
      daysToAdd: 3,
      daysKnown: 0,
      daysDiffering: 0,
      withArrhythmia: 2,
      longestNotGiven: 2,
      span: { firstDay: '2026-01-09', lastDay: '2026-02-03' },
    });
    const said = sayDeviceReport(report).join('\n');
    expect(said).toContain('2 days with arrhythmia without a longest episode');
    expect(said).toContain('1 day lies before the patient’s first procedure');
    // 2026-01-10 to 2026-01-31 and 2026-02-02.
    expect(said).toContain('23 days between the first and the last day of a patient are not in the file');
  });
});

describe('publishing', () => {
  const decoded = decodedOf(row('2026-02-01', 60), row('2026-02-03', 70), row('2026-02-03', 5, OTHER));
  const plan = planDeviceImport(decoded, [
    known({ storedDays: [day('2026-02-03', 71)] }),
    known({ patientId: 'two', code: OTHER }),
  ]);

  it.each([
    ['keep' as const, 2, 0],
    ['replace' as const, 3, 1],
  ])('writes patient by patient, and %s means so', async (onDifference, days, replaced) => {
    const steps: string[] = [];
    const published = await publishDeviceDays(decoded, plan, onDifference, {
      openBatch: async (file) => {
        steps.push(`open ${file.rows} rows, ${file.patientsPlanned} patients`);
        return 'batch';
      },
      storePatient: async (batchId, { patientId, adds, replaces }) => {
        steps.push(`${batchId} ${patientId} ${adds.length} ${replaces.length}`);
      },
      onProgress: (done, planned) => void steps.push(`${done} of ${planned}`),
    });
    expect(published).toEqual({ batchId: 'batch', patients: 2, days });
    expect(steps).toEqual([
      'open 3 rows, 2 patients',
      `batch one 1 ${replaced}`,
      '1 of 2',
      'batch two 1 0',
      '2 of 2',
    ]);
  });

  it('opens no batch when there is nothing to write', async () => {
    const stored = decodedOf(row('2026-02-01', 60));
    const nothing = planDeviceImport(stored, [known({ storedDays: [day('2026-02-01', 60)] })]);
    const refuse = () => Promise.reject(new Error('must not be called'));
    expect(
      await publishDeviceDays(stored, nothing, 'keep', { openBatch: refuse, storePatient: refuse }),
    ).toBeNull();
  });
});
