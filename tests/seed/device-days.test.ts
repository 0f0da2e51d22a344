import { describe, expect, it } from 'vitest';
import { daysBetween } from '@/lib/registry/calendar-day';
import { ENDPOINT_PRESETS } from '@/lib/registry/endpoint-presets';
import { deriveOutcomes } from '@/lib/registry/time-to-event';
import { cohortOf } from './demo-cohort';
import { demoLab } from './demo-lab';

const lab = demoLab();
const withDevice = lab.filter(({ deviceDays }) => deviceDays.length > 0);

describe('device days of the demo lab', () => {
  it('belong to the patients whose device was read, and to nobody else', () => {
    const read = lab.filter(({ recordings }) => recordings.some(({ kind }) => kind === 'implanted'));
    expect(withDevice).toEqual(read);
    expect(withDevice.length).toBeGreaterThan(20);
  });

  it('are possible, one for each day, none after death or withdrawal', () => {
    for (const { patient, deviceDays } of withDevice) {
      expect(new Set(deviceDays.map(({ day }) => day)).size).toBe(deviceDays.length);
      for (const { day, burdenSeconds, longestEpisodeSeconds } of deviceDays) {
        expect(burdenSeconds >= 0 && burdenSeconds <= 86_400).toBe(true);
        if (longestEpisodeSeconds) expect(longestEpisodeSeconds).toBeLessThanOrEqual(burdenSeconds);
        for (const end of [patient.diedOn, patient.consentWithdrawnOn]) {
          if (end) expect(daysBetween(day, end)).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  it('cover exactly the days that readings cover', () => {
    for (const { recordings, deviceDays } of withDevice) {
      const read = recordings.filter(({ kind }) => kind === 'implanted');
      const covered = read.reduce((sum, one) => sum + daysBetween(one.startedOn, one.endedOn) + 1, 0);
      expect(deviceDays).toHaveLength(covered);
    }
  });

  it('tell every kind of day: none, with and without a longest episode', () => {
    const days = withDevice.flatMap(({ deviceDays }) => deviceDays);
    const withArrhythmia = days.filter(({ burdenSeconds }) => burdenSeconds > 0);
    expect(days.length).toBeGreaterThan(5000);
    expect(withArrhythmia.length).toBeGreaterThan(100);
    expect(withArrhythmia.some(({ longestEpisodeSeconds }) => longestEpisodeSeconds === null)).toBe(true);
    expect(withArrhythmia.some(({ longestEpisodeSeconds }) => longestEpisodeSeconds !== null)).toBe(true);
  });

  it.each(['on-or-off-drugs', 'af-alone'])(
    'find no other first recurrence than the readings do: %s',
    (code) => {
      const preset = ENDPOINT_PRESETS.find((one) => one.code === code);
      if (!preset) throw new Error('no preset');
      const rules = { ...preset.rules, drugRule: 'ignored' as const };
      const told = deriveOutcomes(cohortOf(lab), rules);
      const without = deriveOutcomes(cohortOf(lab.map((one) => ({ ...one, deviceDays: [] }))), rules);
      const events = ({ caseIndex, timeDays, status }: typeof told) =>
        [...caseIndex].flatMap((index, i) => (status[i] === 1 ? [[index, timeDays[i]]] : []));
      if (code === 'on-or-off-drugs') expect(events(told)).toEqual(events(without));
      else expect(events(told).length).toBeGreaterThanOrEqual(events(without).length);
    },
  );
});
