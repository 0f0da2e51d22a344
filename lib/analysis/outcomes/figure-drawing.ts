import { bandPath, curvePath, drawnThrough, type FigureScale } from './curve-paths';
import type { DirectLabel, FigureDrawing, PlacedText } from './figure-model';
import { chooseCells, placeRows } from './figure-rows';
import type { DrawingContent, DrawingSize } from './figure-sheet';
import { placeLabels } from './label-layout';
import { textWidth, wrapText } from './text-width';

const LINE = 1.2;
const TOP = 44;
const LABEL_INSET = 8;
const SAMPLE_GAP = 5;

/** Places everything of the figure on a sheet of the given size. */
export function drawFigure(content: DrawingContent, size: DrawingSize): FigureDrawing {
  const { fontSize, left, width } = size;
  const wrapped = content.series.map(({ name }) => wrapText(name, size.mostLabelWidth, fontSize, 2));
  const labelWidth = Math.max(40, ...wrapped.flat().map((line) => textWidth(line, fontSize, true)));
  const plot = {
    left,
    right: width - labelWidth - LABEL_INSET - size.sample - SAMPLE_GAP - 2,
    top: TOP,
    bottom: TOP + size.plotHeight,
  };
  const scale: FigureScale = {
    x: (day) => plot.left + ((plot.right - plot.left) * day) / content.lastDay,
    y: (fraction) => plot.bottom - (plot.bottom - plot.top) * fraction,
  };
  const { chosen, spans, stacked } = chooseCells(content, scale, size);
  const lineHeight = LINE * fontSize;
  const axisY = plot.bottom + 5 + fontSize;
  const headY = axisY + 2.4 * lineHeight;
  const riskRows = placeRows(content, { chosen, spans, stacked }, headY, fontSize);
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
    labels: placeNames(content, wrapped, scale, plot, size),
    riskHead: { x: 2, y: headY, text: content.riskHead },
    riskRows,
  };
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
  { fontSize, sample }: DrawingSize,
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
  const sampleX = plot.right + LABEL_INSET;
  return ends.map(({ slot, lines, x: endX, y: endY }, i) => {
    const first = centres[i] - (lines.length * lineHeight) / 2 + 0.92 * fontSize;
    const firstMiddle = first - 0.33 * fontSize;
    return {
      slot,
      lines,
      sample: `M${sampleX.toFixed(1)} ${firstMiddle.toFixed(1)}h${sample}`,
      x: sampleX + sample + SAMPLE_GAP,
      baselines: lines.map((_, line) => first + line * lineHeight),
      leader: `M${endX.toFixed(1)} ${endY.toFixed(1)}L${(sampleX - 2).toFixed(1)} ${firstMiddle.toFixed(1)}`,
    };
  });
}
