import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandPath, curvePath, drawnThrough } from '@/lib/analysis/outcomes/curve-paths';
import type { FigureDrawing } from '@/lib/analysis/outcomes/figure-model';
import { chooseTicks, dayOfMonth, tickCandidates } from '@/lib/analysis/outcomes/figure-ticks';
import { textWidth } from '@/lib/analysis/outcomes/text-width';
import { estimateKaplanMeier, survivalAt } from '@/lib/statistics/index';
import { randomCohort, randomNumbers, shortCohort } from './outcomes-cohort';
import { answer } from './outcomes-place';

const SCALE = { x: (day: number) => 50 + day * 0.4, y: (fraction: number) => 350 - 330 * fraction };

/** The corners of a path of M, H, V and L steps. */
function cornersOf(path: string): { x: number; y: number }[] {
  const found: { x: number; y: number }[] = [];
  let x = 0;
  let y = 0;
  for (const [, command, first, second] of path.matchAll(/([MHVL])(-?[\d.]+)(?: (-?[\d.]+))?/g)) {
    if (command === 'H') x = Number(first);
    else if (command === 'V') y = Number(first);
    else [x, y] = [Number(first), Number(second)];
    found.push({ x, y });
  }
  return found;
}

/** By the even-odd rule, with a ray upwards. */
function isInside(polygon: readonly { x: number; y: number }[], x: number, y: number): boolean {
  let crossings = 0;
  for (const [i, to] of polygon.entries()) {
    const from = polygon[i === 0 ? polygon.length - 1 : i - 1];
    if (from && from.x > x !== to.x > x && from.y < y) crossings += 1;
  }
  return crossings % 2 === 1;
}

function randomCurve(seed: number, n: number) {
  const random = randomNumbers(seed);
  const timeDays = Array.from({ length: n }, () => 91 + Math.floor(random() * 1400));
  const event = Array.from({ length: n }, () => (random() < 0.5 ? 1 : 0));
  return estimateKaplanMeier({ timeDays, event, entryDays: timeDays.map(() => 90) });
}

describe('a curve', () => {
  it('only moves right and down, from the opening of the risk set to the last day with ten at risk', () => {
    for (let seed = 0; seed < 200; seed += 1) {
      const curve = randomCurve(seed, 10 + (seed % 300));
      const through = drawnThrough(curve);
      if (through === undefined) throw new Error('nothing drawn');
      const corners = cornersOf(curvePath(curve, 90, through, SCALE));
      for (const [i, corner] of corners.entries()) {
        expect(corner.x).toBeGreaterThanOrEqual(corners[i - 1]?.x ?? 0);
        expect(corner.y).toBeGreaterThanOrEqual(corners[i - 1]?.y ?? 0);
      }
      expect(corners[0]).toEqual({ x: SCALE.x(90), y: 20 });
      expect(Math.abs((corners.at(-1)?.x ?? 0) - SCALE.x(through))).toBeLessThanOrEqual(0.125);
      const i = curve.timeDays.indexOf(through);
      expect(curve.atRisk[i]).toBeGreaterThanOrEqual(10);
      if (i + 1 < curve.timeDays.length) expect(curve.atRisk[i + 1]).toBeLessThan(10);
    }
  });

  it('is thinned without being seen to: at any day within a quarter of a unit across and a tenth down', () => {
    const curve = randomCurve(9, 3000);
    const through = drawnThrough(curve) ?? 0;
    const path = curvePath(curve, 90, through, SCALE);
    const corners = cornersOf(path);
    for (let day = 91; day < through; day += 1) {
      const heights = [day - 0.7, day, day + 0.7].map((at) => {
        const [point] = survivalAt(curve, [Math.max(0, at)]);
        return point.kind === 'estimated' ? SCALE.y(point.survival) : Number.NaN;
      });
      const drawn = corners.filter(({ x }) => x <= SCALE.x(day)).at(-1)?.y ?? Number.NaN;
      expect(drawn).toBeGreaterThanOrEqual(Math.min(...heights) - 0.1);
      expect(drawn).toBeLessThanOrEqual(Math.max(...heights) + 0.1);
    }
    // Days closer together than the eye: fewer corners than days.
    const squeezed = { ...SCALE, x: (day: number) => 50 + day * 0.02 };
    expect(cornersOf(curvePath(curve, 90, through, squeezed)).length).toBeLessThan(corners.length / 4);
  });

  it('lies inside its band, which is as wide as the limits', () => {
    for (let seed = 0; seed < 20; seed += 1) {
      const curve = randomCurve(seed, 200);
      const through = drawnThrough(curve) ?? 0;
      const path = bandPath(curve, 90, through, SCALE);
      expect(path.endsWith('Z')).toBe(true);
      const band = cornersOf(path);
      for (let i = curve.intervalFrom; curve.timeDays[i] < through; i += 1) {
        if (curve.timeDays[i + 1] - curve.timeDays[i] < 3) continue;
        const x = SCALE.x(curve.timeDays[i]) + 0.41;
        expect(isInside(band, x, SCALE.y(curve.survival[i]))).toBe(true);
        expect(isInside(band, x, SCALE.y(curve.upper[i]) - 0.2)).toBe(false);
        expect(isInside(band, x, SCALE.y(curve.upper[i]) + 0.2)).toBe(true);
        expect(isInside(band, x, SCALE.y(curve.lower[i]) - 0.2)).toBe(true);
        expect(isInside(band, x, SCALE.y(curve.lower[i]) + 0.2)).toBe(false);
      }
    }
  });

  it('is not drawn when fewer than ten were ever at risk', () => {
    expect(drawnThrough(randomCurve(1, 9))).toBeUndefined();
    expect(drawnThrough(randomCurve(1, 10))).toBeDefined();
    expect(drawnThrough(estimateKaplanMeier({ timeDays: [], event: [] }))).toBeUndefined();
  });
});

describe('ticks', () => {
  it('stand at whole months and years: 12 months end on day 365', () => {
    expect([3, 6, 12, 24, 36, 48].map(dayOfMonth)).toEqual([91, 182, 365, 730, 1095, 1461]);
    expect(tickCandidates(90, 400).map(({ day, text }) => [day, text])).toEqual([
      [90, 'day 90'],
      [365, '1 y'],
      [182, '6 mo'],
      [91, '3 mo'],
      [273, '9 mo'],
    ]);
  });

  it('are given up by rank when they would touch', () => {
    const candidates = tickCandidates(0, 1500);
    const spanOf = (i: number) => ({ left: candidates[i].day - 150, right: candidates[i].day + 150 });
    const chosen = chooseTicks(candidates, spanOf, 10).map((i) => candidates[i].text);
    expect(chosen).toEqual(['0', '1 y', '2 y', '3 y', '4 y']);
  });

  it('never lie before the opening of the risk set nor past the end', () => {
    fc.assert(
      fc.property(fc.nat(400), fc.integer({ min: 30, max: 9000 }), (entry, more) => {
        for (const { day } of tickCandidates(entry, entry + more)) {
          expect(day).toBeGreaterThanOrEqual(entry);
          expect(day).toBeLessThanOrEqual(entry + more);
        }
      }),
    );
  });
});

interface Box {
  readonly what: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Every text of a drawing as a box, by the widths that the layout was made with. */
function textBoxes(drawing: FigureDrawing): Box[] {
  const { fontSize } = drawing;
  const box = (text: string, x: number, y: number, anchor: 'start' | 'middle' | 'end', bold = false): Box => {
    const width = textWidth(text, fontSize, bold);
    const left = anchor === 'start' ? x : anchor === 'middle' ? x - width / 2 : x - width;
    return { what: text, left, right: left + width, top: y - 0.8 * fontSize, bottom: y + 0.22 * fontSize };
  };
  const inBrackets = (others: readonly { text: string }[]) =>
    `(${others.map(({ text }) => text).join(', ')})`;
  return [
    box(drawing.axisTitle.text, drawing.axisTitle.x, drawing.axisTitle.y, 'start', true),
    box(drawing.timeTitle.text, drawing.timeTitle.x, drawing.timeTitle.y, 'end'),
    box(drawing.riskHead.text, drawing.riskHead.x, drawing.riskHead.y, 'start'),
    ...(drawing.blanking
      ? [box(drawing.blanking.label.text, drawing.blanking.label.x, drawing.blanking.label.y, 'start')]
      : []),
    ...drawing.days.map(({ x, y, text }) => box(text, x, y, 'middle')),
    ...drawing.percents.map(({ x, y, text }) => box(text, x, y + fontSize * 0.33, 'end')),
    ...drawing.labels.flatMap(({ lines, x, baselines }) =>
      lines.map((line, i) => box(line, x, baselines[i], 'start', true)),
    ),
    ...drawing.riskRows.flatMap(({ name, nameY, y, othersY, cells }) => [
      box(name, 30, nameY, 'start', true),
      ...cells.flatMap(({ x, atRisk, others }) =>
        othersY === y
          ? [box(`${atRisk.text} ${inBrackets(others)}`, x, y, 'middle')]
          : [box(atRisk.text, x, y, 'middle', true), box(inBrackets(others), x, othersY, 'middle')],
      ),
    ]),
  ];
}

function expectNothingTouches(drawing: FigureDrawing): void {
  const boxes = textBoxes(drawing);
  for (const [i, one] of boxes.entries()) {
    expect(`${one.what} ${one.left >= 0 && one.right <= drawing.width + 0.5}`).toBe(`${one.what} true`);
    expect(one.bottom).toBeLessThanOrEqual(drawing.height);
    for (const other of boxes.slice(i + 1)) {
      const apart =
        one.right <= other.left ||
        other.right <= one.left ||
        one.bottom <= other.top ||
        other.bottom <= one.top;
      expect(`${one.what} | ${other.what} | ${apart}`).toBe(`${one.what} | ${other.what} | true`);
    }
  }
}

describe('a drawing', () => {
  const questions = [
    {},
    { by: 'derived-strategy' },
    { by: 'af-type', death: 'competing' },
    { by: 'derived-strategy', blanking: '0', endInclusive: 'no' },
    { by: 'af-type', blanking: '240' },
  ];

  it('lets no text touch another or leave the sheet, wide or narrow, for many labs and lengths of follow-up', () => {
    for (let seed = 0; seed < 60; seed += 1) {
      const cohort = randomCohort(seed, 60 + 40 * seed, [200, 700, 1500, 2600, 4000][seed % 5]);
      const { drawings } = answer(cohort, questions[seed % questions.length]).view.figure;
      if (!drawings) continue;
      expectNothingTouches(drawings.wide);
      expectNothingTouches(drawings.narrow);
    }
  });

  it('keeps names apart when all curves end in one place', () => {
    const cases = ['a', 'b', 'c', 'd', 'e'].flatMap((tag) =>
      Array.from({ length: 30 }, (_, i) => ({
        tag: `A rather long cohort tag ${tag}`,
        ...(i % 3 === 0 ? { af: 100 + i } : { clean: [400 + i] }),
      })),
    );
    const { drawings } = answer(shortCohort(cases), { by: 'cohort-tag' }).view.figure;
    if (!drawings) throw new Error('nothing drawn');
    expect(drawings.wide.labels).toHaveLength(5);
    expectNothingTouches(drawings.wide);
    expectNothingTouches(drawings.narrow);
  });

  it('shades what is blanked and opens the numbers at risk there', () => {
    const { figure } = answer(randomCohort(2, 400)).view;
    expect(figure.drawings?.wide.blanking?.label.text).toBe('blanking to day 90');
    expect(figure.drawings?.wide.tickDays[0]).toBe(90);
    expect(figure.drawings?.wide.riskRows[0]?.cells[0]?.others.map(({ text }) => text)).toEqual(['0', '0']);
    const open = answer(randomCohort(2, 400), { blanking: '0', endInclusive: 'no' }).view.figure;
    expect(open.drawings?.wide.blanking).toBeUndefined();
  });

  it('says which group is too small to draw, and still counts it', () => {
    const cases = [
      ...Array.from({ length: 40 }, (_, i) => ({ strategy: 'ostial', clean: [200 + 10 * i] })),
      ...Array.from({ length: 5 }, (_, i) => ({ strategy: 'mixed', clean: [200 + 10 * i] })),
    ];
    const { figure } = answer(shortCohort(cases), { by: 'derived-strategy' }).view;
    expect(figure.undrawn).toContain('Not drawn: Mixed');
    expect(figure.drawings?.wide.curves).toHaveLength(1);
    expect(figure.drawings?.wide.riskRows[1]?.cells[0]?.atRisk.text).toBe('5');
  });

  it('is replaced by words and the table when nothing may be drawn', () => {
    const { figure } = answer(shortCohort([{ clean: [200] }, { af: 120 }])).view;
    expect(figure.drawings).toBeUndefined();
    expect(figure.undrawn).toContain('No curve is drawn');
    expect(figure.table.length).toBeGreaterThan(0);
  });
});
