import type { KaplanMeierCurve } from '../../statistics/index';
import { bandPath, curvePath, drawnThrough, type FigureScale } from './curve-paths';
import type { DirectLabel, FigureDrawing, LinkedCount, PlacedText, RiskRow, Slot } from './figure-model';
import { chooseTicks, type TickCandidate } from './figure-ticks';
import { placeLabels } from './label-layout';
import { textWidth, wrapText } from './text-width';

/** What is drawn of one series, before it has a place. */
export interface SeriesToDraw {
  readonly slot: Slot;
  readonly name: string;
  readonly curve: KaplanMeierCurve;
  /** Per tick candidate: at risk, then what stands in brackets. */
  readonly counts: readonly (readonly LinkedCount[])[];
}

export interface DrawingContent {
  readonly series: readonly SeriesToDraw[];
  readonly candidates: readonly TickCandidate[];
  readonly entryDay: number;
  /** Last day of blanking; -1 when nothing is blanked. */
  readonly blankedThrough: number;
  readonly lastDay: number;
  readonly axisTitle: string;
  readonly riskHead: string;
}

export interface DrawingSize {
  readonly width: number;
  readonly plotHeight: number;
  readonly left: number;
  readonly mostLabelWidth: number;
  readonly fontSize: number;
  /** What stands in brackets goes under the number at risk. */
  readonly stacked: boolean;
}

export const WIDE: DrawingSize = {
  width: 760,
  plotHeight: 330,
  left: 52,
  mostLabelWidth: 160,
  fontSize: 12.5,
  stacked: false,
};
export const NARROW: DrawingSize = {
  width: 400,
  plotHeight: 260,
  left: 50,
  mostLabelWidth: 108,
  fontSize: 13,
  stacked: true,
};

const LINE = 1.2;
const TOP = 44;
const LABEL_INSET = 10;

/** Places everything of the figure on a sheet of the given size. */
export function drawFigure(content: DrawingContent, size: DrawingSize): FigureDrawing {
  const { fontSize, left, width } = size;
  const wrapped = content.series.map(({ name }) => wrapText(name, size.mostLabelWidth, fontSize, 2));
  const labelWidth = Math.max(40, ...wrapped.flat().map((line) => textWidth(line, fontSize, true)));
  const plot = { left, right: width - labelWidth - LABEL_INSET - 2, top: TOP, bottom: TOP + size.plotHeight };
  const scale: FigureScale = {
    x: (day) => plot.left + ((plot.right - plot.left) * day) / content.lastDay,
    y: (fraction) => plot.bottom - (plot.bottom - plot.top) * fraction,
  };
  const spans = spansOf(content, scale, size);
  const chosen = chooseTicks(content.candidates, (i) => spans[i], size.stacked ? 5 : 9);
  const lineHeight = LINE * fontSize;
  const axisY = plot.bottom + 5 + fontSize;
  const headY = axisY + 2.4 * lineHeight;
  const riskRows = placeRows(content, chosen, spans, headY, size);
  return {
    width,
    height: Math.ceil((riskRows.at(-1)?.othersY ?? headY) + 0.7 * fontSize),
    fontSize,
    plot,
    axisTitle: { x: plot.left, y: fontSize, text: content.axisTitle },
    timeTitle: { x: plot.right, y: axisY + lineHeight, text: 'time since the procedure' },
    percents: [0, 25, 50, 75, 100].map((percent) => ({
      x: plot.left - 8,
      y: scale.y(percent / 100),
      text: `${percent}\u2009%`,
    })),
    tickDays: chosen.map((i) => content.candidates[i].day),
    days: placeDays(content, chosen, scale, axisY, fontSize),
    blanking: placeBlanking(content, scale, plot.top),
    curves: content.series.flatMap(({ slot, curve }) => {
      const through = drawnThrough(curve);
      if (through === undefined) return [];
      return [
        {
          slot,
          line: curvePath(curve, content.entryDay, through, scale),
          band: bandPath(curve, content.entryDay, through, scale),
        },
      ];
    }),
    labels: placeNames(content, wrapped, scale, plot, fontSize),
    riskHead: { x: 2, y: headY, text: content.riskHead },
    riskRows,
  };
}

/** What stands at a tick is as wide as its widest text, and is kept on the sheet. */
function spansOf(
  content: DrawingContent,
  scale: FigureScale,
  { fontSize, width, stacked }: DrawingSize,
): { left: number; right: number }[] {
  return content.candidates.map(({ day, text }, i) => {
    const cells = content.series.flatMap(({ counts }) => cellWidths(counts[i], fontSize, stacked));
    const half = Math.max(textWidth(text, fontSize), ...cells) / 2;
    const centre = Math.min(Math.max(scale.x(day), half + 2), width - half - 2);
    return { left: centre - half, right: centre + half };
  });
}

function cellWidths(
  [atRisk, ...others]: readonly LinkedCount[],
  fontSize: number,
  stacked: boolean,
): number[] {
  const first = textWidth(atRisk?.text ?? '', fontSize, true);
  const rest = textWidth(`(${others.map(({ text }) => text).join(', ')})`, fontSize);
  return stacked ? [first, rest] : [first + textWidth(' ', fontSize) + rest];
}

function placeRows(
  content: DrawingContent,
  chosen: readonly number[],
  spans: readonly { left: number; right: number }[],
  headY: number,
  { fontSize, stacked }: DrawingSize,
): RiskRow[] {
  const pitch = (stacked ? 4.2 : 3) * fontSize;
  return content.series.map(({ slot, name, counts, curve }, row) => {
    const nameY = headY + 1.6 * fontSize + row * pitch;
    return {
      slot,
      name: drawnThrough(curve) === undefined ? `${name} (too few at risk to draw)` : name,
      nameY,
      y: nameY + 1.3 * fontSize,
      othersY: nameY + (stacked ? 2.5 : 1.3) * fontSize,
      cells: chosen.flatMap((i) => {
        const [atRisk, ...others] = counts[i];
        return atRisk ? [{ x: (spans[i].left + spans[i].right) / 2, atRisk, others }] : [];
      }),
    };
  });
}

function placeDays(
  content: DrawingContent,
  chosen: readonly number[],
  scale: FigureScale,
  y: number,
  fontSize: number,
): PlacedText[] {
  const days = chosen.map((i) => ({
    x: scale.x(content.candidates[i].day),
    y,
    text: content.candidates[i].text,
  }));
  const [first] = days;
  const origin = scale.x(0);
  const room = first ? first.x - textWidth(first.text, fontSize) / 2 - origin : 0;
  return content.entryDay > 0 && room > textWidth('0', fontSize) + 4
    ? [{ x: origin, y, text: '0' }, ...days]
    : days;
}

function placeBlanking(content: DrawingContent, scale: FigureScale, top: number): FigureDrawing['blanking'] {
  if (content.blankedThrough < 0) return undefined;
  const width = scale.x(Math.min(content.blankedThrough, content.lastDay)) - scale.x(0);
  const text = content.blankedThrough === 0 ? 'day 0 blanked' : `blanking to day ${content.blankedThrough}`;
  return { width, label: { x: scale.x(0), y: top - 7, text } };
}

function placeNames(
  content: DrawingContent,
  wrapped: readonly (readonly string[])[],
  scale: FigureScale,
  plot: FigureDrawing['plot'],
  fontSize: number,
): DirectLabel[] {
  const lineHeight = LINE * fontSize;
  const ends = content.series.flatMap(({ slot, curve }, i) => {
    const through = drawnThrough(curve);
    if (through === undefined) return [];
    const at = curve.timeDays.indexOf(through);
    return [{ slot, lines: wrapped[i], x: scale.x(through), y: scale.y(curve.survival[at]) }];
  });
  const wishes = ends.map(({ lines, y }) => ({ y, height: lines.length * lineHeight }));
  const centres = placeLabels(wishes, plot.top, plot.bottom, 4);
  const x = plot.right + LABEL_INSET;
  return ends.map(({ slot, lines, x: endX, y: endY }, i) => {
    const first = centres[i] - (lines.length * lineHeight) / 2 + 0.92 * fontSize;
    const needed = plot.right - endX > 2 || Math.abs(centres[i] - endY) > lineHeight / 2;
    return {
      slot,
      lines,
      x,
      baselines: lines.map((_, line) => first + line * lineHeight),
      leader: needed ? `M${endX.toFixed(1)} ${endY.toFixed(1)}L${x - 4} ${centres[i].toFixed(1)}` : undefined,
    };
  });
}
