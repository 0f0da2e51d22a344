import type { ReadableCurve } from '../../statistics/index';
import { FEWEST_AT_RISK } from './estimates-in-words';

/** From days and fractions to the units of the drawing. */
export interface FigureScale {
  readonly x: (day: number) => number;
  readonly y: (fraction: number) => number;
}

/**
 * The last day through which a curve is drawn: the last at which at least FEWEST_AT_RISK were at risk just before it,
 * with no gap before. Undefined: nothing is drawn.
 */
export function drawnThrough(curve: ReadableCurve): number | undefined {
  const tooFew = curve.atRisk.findIndex((count) => count < FEWEST_AT_RISK);
  const last = tooFew < 0 ? curve.timeDays.length - 1 : tooFew - 1;
  return last < 0 ? undefined : curve.timeDays[last];
}

/** Steps are joined within a quarter of a unit across and a tenth down: less than can be seen. */
const snapX = (x: number): number => Math.round(4 * x) / 4;
const snapY = (y: number): number => Math.round(10 * y) / 10;

interface Corner {
  readonly x: number;
  readonly y: number;
}

/** Where a step function from `start` on changes, in drawing units, thinned; the last corner lies at `end`. */
function corners(start: Corner, end: number, steps: Iterable<Corner>): Corner[] {
  const kept: Corner[] = [{ x: snapX(start.x), y: snapY(start.y) }];
  for (const step of steps) {
    const x = snapX(step.x);
    const y = snapY(step.y);
    const last = kept[kept.length - 1];
    if (y === last.y) continue;
    if (x === last.x && kept.length > 1) kept[kept.length - 1] = { x, y };
    else kept.push({ x, y });
  }
  const last = kept[kept.length - 1];
  kept.push({ x: snapX(end), y: last.y });
  return kept;
}

function* stepsOf(
  curve: ReadableCurve,
  values: Float64Array,
  through: number,
  scale: FigureScale,
): Generator<Corner> {
  for (let i = 0; i < values.length && curve.timeDays[i] <= through; i += 1) {
    if (curve.events[i] > 0) yield { x: scale.x(curve.timeDays[i]), y: scale.y(values[i]) };
  }
}

const forward = (kept: readonly Corner[]): string =>
  kept.map(({ x, y }, i) => (i === 0 ? `M${x} ${y}` : y === kept[i - 1].y ? `H${x}` : `H${x}V${y}`)).join('');

/** The curve as one path of steps, from the opening of the risk set through the last day drawn. */
export function curvePath(
  curve: ReadableCurve,
  entryDay: number,
  through: number,
  scale: FigureScale,
): string {
  const start = { x: scale.x(entryDay), y: scale.y(1) };
  return forward(corners(start, scale.x(through), stepsOf(curve, curve.survival, through, scale)));
}

/** The limits as one closed path: along the upper one, back along the lower one. It ends where limits do (S = 0). */
export function bandPath(
  curve: ReadableCurve,
  entryDay: number,
  through: number,
  scale: FigureScale,
): string {
  const start = { x: scale.x(entryDay), y: scale.y(1) };
  const lastDay =
    curve.intervalTo < curve.timeDays.length ? Math.min(through, curve.timeDays[curve.intervalTo]) : through;
  const end = scale.x(lastDay);
  const upper = corners(start, end, stepsOf(curve, curve.upper, lastDay, scale));
  const lower = corners(start, end, stepsOf(curve, curve.lower, lastDay, scale));
  const back = lower.map(({ x, y }, i) => {
    const before = lower[i - 1];
    return before && before.y !== y ? { x, from: y, to: before.y } : { x, from: y, to: y };
  });
  const returning = back
    .reverse()
    .map(({ x, from, to }, i) => `${i === 0 ? `V${from}` : `H${x}`}${to === from ? '' : `V${to}`}`)
    .join('');
  return `${forward(upper)}${returning}Z`;
}
