import { type CalendarDay, daysBetween } from '../../registry/calendar-day';
import { type DeviceDay, SECONDS_PER_DAY, stretchesOf } from '../../registry/device-days';
import { countOf, formatCount, THIN_SPACE } from '../outcomes/numbers-in-words';
import { type DayOfBurden, drawBurden, NARROW, WIDE } from './burden-drawing';
import type { BurdenLine, BurdenPeriod, BurdenView } from './burden-model';

/** A baseline shorter than a month is none: the 2017 consensus statement asks for at least one month before ablation. */
const BASELINE_DAYS = 30;

const PERIODS = [
  { label: 'Before the procedure', from: Number.NEGATIVE_INFINITY, to: -1 },
  { label: 'Day 0 to 90', from: 0, to: 90 },
  { label: 'Day 91 to 365', from: 91, to: 365 },
  { label: 'After day 365', from: 366, to: Number.POSITIVE_INFINITY },
] as const;

export interface BurdenOrder {
  readonly days: readonly DeviceDay[];
  readonly performedOn: CalendarDay;
  readonly procedures: readonly { readonly ordinal: number; readonly performedOn: CalendarDay }[];
  /** Day of the patient's next procedure, since this one: periods end before it. */
  readonly daysToNext: number | null;
}

/** The burden of one case; undefined without a device day. */
export function burdenView({
  days,
  performedOn,
  procedures,
  daysToNext,
}: BurdenOrder): BurdenView | undefined {
  if (days.length === 0) return undefined;
  const since = (day: CalendarDay) => daysBetween(performedOn, day);
  const own = days
    .map(({ day, burdenSeconds }) => ({ day: since(day), burdenSeconds }))
    .sort((a, b) => a.day - b.day);
  const marks = procedures.map(({ ordinal, performedOn: on }) => ({ ordinal, day: since(on) }));
  return {
    title: 'Arrhythmia by day',
    sentence: sentenceOf(own),
    drawings: { wide: drawBurden(own, marks, WIDE), narrow: drawBurden(own, marks, NARROW) },
    caption: [
      'Burden: share of each recorded day with arrhythmia, as the device counted it; its tracings are not seen. A day that is not marked as recorded was not watched.',
      ...(days.some(
        ({ burdenSeconds, longestEpisodeSeconds }) => burdenSeconds > 0 && longestEpisodeSeconds === null,
      )
        ? [
            'Where the device gave no longest episode it is at most the burden of the day, and the burden stands for it: recurrence can be found too early, never too late.',
          ]
        : []),
    ],
    periods: periodsOf(own, daysToNext),
    lines: linesOf(
      days,
      procedures.map(({ performedOn: on }) => on),
      since,
    ),
  };
}

function sentenceOf(days: readonly DayOfBurden[]): string {
  const first = days[0].day;
  const last = days[days.length - 1].day;
  const withAny = days.filter(({ burdenSeconds }) => burdenSeconds > 0);
  const span = `Recorded on ${formatCount(days.length)} of ${countOf(last - first + 1, 'day')} (day ${minus(first)} to ${minus(last)})`;
  if (withAny.length === 0) return `${span}, and no arrhythmia on any of them.`;
  const most = withAny.reduce((best, one) => (one.burdenSeconds > best.burdenSeconds ? one : best));
  return `${span}; arrhythmia on ${formatCount(withAny.length)} of them, ${percent(burdenOf(days))} of the recorded time, most on day ${minus(most.day)} (${percent(most.burdenSeconds / SECONDS_PER_DAY)}).`;
}

const burdenOf = (days: readonly DayOfBurden[]): number =>
  days.reduce((sum, { burdenSeconds }) => sum + burdenSeconds, 0) / (days.length * SECONDS_PER_DAY);

function periodsOf(days: readonly DayOfBurden[], daysToNext: number | null): BurdenPeriod[] {
  const within = PERIODS.map(({ label, from, to }) => ({
    label,
    days: days.filter(({ day }) => day >= from && day <= to && (daysToNext === null || day < daysToNext)),
  }));
  const [before] = within;
  const baseline = before.days.length >= BASELINE_DAYS ? burdenOf(before.days) : undefined;
  return within
    .filter((period) => period.days.length > 0)
    .map((period) => ({
      label: period.label,
      recorded: formatCount(period.days.length),
      withArrhythmia: formatCount(period.days.filter(({ burdenSeconds }) => burdenSeconds > 0).length),
      burden: percent(burdenOf(period.days)),
      change: period === before ? 'baseline' : changeOf(burdenOf(period.days), baseline),
    }));
}

function changeOf(burden: number, baseline: number | undefined): string {
  if (baseline === undefined) return `no baseline of ${BASELINE_DAYS} days`;
  if (baseline === 0) return 'baseline is 0';
  const change = 100 * (burden / baseline - 1);
  return `${change > 0 ? '+' : ''}${minus(Number(change.toFixed(0)))}${THIN_SPACE}%`;
}

function linesOf(
  days: readonly DeviceDay[],
  cuts: readonly CalendarDay[],
  since: (day: CalendarDay) => number,
): BurdenLine[] {
  return stretchesOf(days, cuts).map(({ firstDay, lastDay, burdenSeconds, seconds, isAtMost }) => {
    const [from, to] = [minus(since(firstDay)), minus(since(lastDay))];
    return {
      key: firstDay,
      days: from === to ? from : `${from} to ${to}`,
      dates: firstDay === lastDay ? firstDay : `${firstDay} to ${lastDay}`,
      burden:
        seconds === null
          ? 'none'
          : `${percent(burdenSeconds / SECONDS_PER_DAY)} (${lengthOf(burdenSeconds)})`,
      longest: seconds === null ? '' : `${isAtMost ? 'not given: at most ' : ''}${lengthOf(seconds)}`,
    };
  });
}

/** '45 s', '12 min', '3 h 20 min'. */
function lengthOf(seconds: number): string {
  if (seconds < 120) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  return minutes % 60 === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** '12.4 %'; what is more than nothing never reads as 0. */
function percent(fraction: number): string {
  const figures = (100 * fraction).toFixed(1);
  return fraction > 0 && figures === '0.0' ? `under 0.1${THIN_SPACE}%` : `${figures}${THIN_SPACE}%`;
}

const minus = (value: number): string => String(value).replace('-', '\u2212');
