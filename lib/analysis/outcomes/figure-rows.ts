import { drawnThrough, type FigureScale } from './curve-paths';
import type { LinkedCount, RiskRow } from './figure-model';
import type { DrawingContent, DrawingSize } from './figure-sheet';
import { chooseTicks, dayOfMonth, type TickSpan } from './figure-ticks';
import { textWidth } from './text-width';

/** Which ticks carry numbers, and the room of each candidate. */
export interface ChosenCells {
  /** Indexes of candidates, by day. */
  readonly chosen: readonly number[];
  readonly spans: readonly TickSpan[];
  /** What stands in brackets goes under the number at risk. */
  readonly stacked: boolean;
}

/** Chooses the ticks that find room. A tick at 12 months is worth a second line of numbers. */
export function chooseCells(content: DrawingContent, scale: FigureScale, size: DrawingSize): ChosenCells {
  const inLine = chooseWith(content, scale, size, false);
  const year = content.candidates.findIndex(({ day }) => day === dayOfMonth(12));
  const isMissing = year >= 0 && !inLine.chosen.includes(year);
  return size.stacked === 'always' || isMissing ? chooseWith(content, scale, size, true) : inLine;
}

function chooseWith(
  content: DrawingContent,
  scale: FigureScale,
  { fontSize, width }: DrawingSize,
  stacked: boolean,
): ChosenCells {
  const spans = content.candidates.map(({ day, text }, i) => {
    const cells = content.series.flatMap(({ counts }) => cellWidths(counts[i], fontSize, stacked));
    const half = Math.max(textWidth(text, fontSize), ...cells) / 2;
    // What would hang over the edge of the sheet moves in.
    const centre = Math.min(Math.max(scale.x(day), half + 2), width - half - 2);
    return { left: centre - half, right: centre + half };
  });
  return { chosen: chooseTicks(content.candidates, (i) => spans[i], stacked ? 5 : 9), spans, stacked };
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

/** The numbers of each series under its name, below `headY`. */
export function placeRows(
  content: DrawingContent,
  { chosen, spans, stacked }: ChosenCells,
  headY: number,
  fontSize: number,
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
