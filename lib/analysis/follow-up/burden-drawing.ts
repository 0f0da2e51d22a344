import { SECONDS_PER_DAY } from '../../registry/device-days';
import { textWidth } from '../outcomes/text-width';
import type { BurdenDrawing, PlacedText, StripPart } from './burden-model';

/** A device day by its distance from the procedure. */
export interface DayOfBurden {
  readonly day: number;
  readonly burdenSeconds: number;
}

export interface BurdenSize {
  readonly width: number;
  readonly plotHeight: number;
  readonly fontSize: number;
}

export const WIDE: BurdenSize = { width: 760, plotHeight: 220, fontSize: 12.5 };
export const NARROW: BurdenSize = { width: 400, plotHeight: 190, fontSize: 13 };

const LEFT = 52;
const RIGHT = 12;
const TOP = 30;
const STRIP_HEIGHT = 10;
/** Narrower bars vanish. */
const LEAST_BAR = 1.2;

/** Places everything. `days` are in order and not empty; `procedures` are the days of the patient's procedures. */
export function drawBurden(
  days: readonly DayOfBurden[],
  procedures: readonly { readonly day: number; readonly ordinal: number }[],
  { width, plotHeight, fontSize }: BurdenSize,
): BurdenDrawing {
  const plot = { left: LEFT, right: width - RIGHT, top: TOP, bottom: TOP + plotHeight };
  const first = Math.min(0, days[0].day);
  const last = Math.max(days[days.length - 1].day + 1, first + 30);
  const x = (day: number) => plot.left + ((plot.right - plot.left) * (day - first)) / (last - first);
  const y = (seconds: number) => plot.bottom - (plotHeight * seconds) / SECONDS_PER_DAY;
  const dayWidth = Math.max(LEAST_BAR, x(1) - x(0));
  const axisY = plot.bottom + 5 + fontSize;
  const anyY = axisY + 2.2 * fontSize;
  const recordedY = anyY + 2.9 * fontSize;
  return {
    width,
    height: Math.ceil(recordedY + STRIP_HEIGHT + 6),
    fontSize,
    plot,
    percents: [0, 25, 50, 75, 100].map((percent) => ({
      x: plot.left - 8,
      y: y((percent / 100) * SECONDS_PER_DAY),
      text: `${percent}\u2009%`,
    })),
    days: placeDays(first, last, x, axisY, fontSize),
    timeTitle: { x: plot.right, y: 0.9 * fontSize, text: 'days since the procedure' },
    bars: days
      .filter(({ burdenSeconds }) => burdenSeconds > 0)
      .map(
        ({ day, burdenSeconds }) =>
          `M${x(day).toFixed(1)} ${plot.bottom}V${y(burdenSeconds).toFixed(1)}h${dayWidth.toFixed(1)}V${plot.bottom}z`,
      )
      .join(''),
    anyStrip: {
      y: anyY,
      label: { x: plot.left, y: anyY - 4, text: 'days with arrhythmia' },
      parts: stripOf(
        days.filter(({ burdenSeconds }) => burdenSeconds > 0),
        x,
      ),
    },
    recordedStrip: {
      y: recordedY,
      label: { x: plot.left, y: recordedY - 4, text: 'days recorded' },
      parts: stripOf(days, x),
    },
    procedures: placeProcedures(procedures, first, last, x, plot.right, fontSize),
  };
}

/** Days that follow each other as one part. */
function stripOf(days: readonly DayOfBurden[], x: (day: number) => number): StripPart[] {
  const runs: { from: number; to: number }[] = [];
  for (const { day } of days) {
    const open = runs.at(-1);
    if (open && day === open.to + 1) open.to = day;
    else runs.push({ from: day, to: day });
  }
  return runs.map(({ from, to }) => ({ x: x(from), width: Math.max(LEAST_BAR, x(to + 1) - x(from)) }));
}

const STEPS = [7, 30, 90, 180, 365, 730, 1825];

function placeDays(
  first: number,
  last: number,
  x: (day: number) => number,
  y: number,
  fontSize: number,
): PlacedText[] {
  const room = (step: number) => x(step) - x(0) >= textWidth(`${-step * 10}`, fontSize) + 10;
  const step = STEPS.find(room) ?? STEPS[STEPS.length - 1];
  const ticks: PlacedText[] = [];
  for (let day = Math.ceil(first / step) * step; day <= last; day += step) {
    ticks.push({ x: x(day), y, text: String(day).replace('-', '\u2212') });
  }
  return ticks;
}

/** The day of each procedure; its name where it does not touch the one before. */
function placeProcedures(
  procedures: readonly { readonly day: number; readonly ordinal: number }[],
  first: number,
  last: number,
  x: (day: number) => number,
  right: number,
  fontSize: number,
): BurdenDrawing['procedures'] {
  let free = Number.NEGATIVE_INFINITY;
  return procedures
    .filter(({ day }) => day >= first && day <= last)
    .map(({ day, ordinal }) => {
      const name = `procedure ${ordinal}`;
      const width = textWidth(name, fontSize);
      const start = Math.min(x(day), right - width);
      const hasRoom = start >= free;
      if (hasRoom) free = start + width + 8;
      return { x: x(day), label: { x: start, y: TOP - 6, text: hasRoom ? name : '' } };
    });
}
