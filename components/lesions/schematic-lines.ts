import type { ShownSegment, ShownStructure } from '@/lib/registry/lesion-set';
import { barCorners, type Point, polar, polygonPath } from './schematic-geometry';
import { type Label, LINE_HEIGHT, shortWords } from './schematic-labels';
import type { DrawnPart, PlacedRing } from './schematic-parts';

const THICKNESS = 16;

interface Bar {
  readonly from: Point;
  readonly to: Point;
  /** `y` is where the text begins (or, above a bar, where it ends). */
  readonly label: Omit<Label, 'lines'>;
  readonly isLabelAbove?: boolean;
  /** The ring that the bar crosses, if it lies in one. */
  readonly crosses?: string;
}

/** Lines as bars between and beside the rings; a carina line lies in the ring of its pair, or between its two veins. */
export function layBars(
  shown: readonly ShownStructure[],
  rings: readonly PlacedRing[],
): { readonly parts: readonly DrawnPart[]; readonly crossed: readonly string[] } {
  const left = rings.filter(({ side }) => side === 'left');
  const right = rings.filter(({ side }) => side === 'right');
  const bars: Readonly<Record<string, Bar | null>> = {
    roof: joining(left.at(0), right.at(0), -1),
    floor: joining(left.at(-1), right.at(-1), 1),
    'carina-left': carina(left, 'left-pair', 'lspv', 'lipv'),
    'carina-right': carina(right, 'right-pair', 'rspv', 'ripv'),
    'mitral-isthmus': mitral(left.at(-1)),
    cavotricuspid: cavotricuspid(right.at(-1)),
  };
  const lines = shown.filter(({ kind }) => kind === 'line');
  const parts = lines.flatMap(({ structure, label, segments: [segment] }) => {
    const bar = bars[structure];
    return bar ? [partOf(bar, segment, structure.startsWith('carina') ? 'carina line' : label)] : [];
  });
  const crossed = lines.flatMap(({ structure }) => bars[structure]?.crosses ?? []);
  return { parts, crossed };
}

function partOf({ from, to, label, isLabelAbove }: Bar, segment: ShownSegment, name: string): DrawnPart {
  const lines = [name, ...shortWords(segment)];
  const y = isLabelAbove ? label.y - (lines.length - 1) * LINE_HEIGHT - 4 : label.y + 16;
  const [a, b, c, d] = barCorners(from, to, THICKNESS);
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  return {
    segment,
    path: polygonPath([a, b, c, d]),
    cross: `M${a.x} ${a.y}L${c.x} ${c.y}M${b.x} ${b.y}L${d.x} ${d.y}`,
    middle,
    size: {
      x: Math.max(THICKNESS, 0.8 * Math.abs(to.x - from.x)),
      y: Math.max(THICKNESS, 0.8 * Math.abs(to.y - from.y)),
    },
    edge: { x: from.x + (to.x - from.x) / 4, y: from.y + (to.y - from.y) / 4 },
    label: { ...label, y, lines },
  };
}

/**
 * From ring to ring along the top (-1) or the bottom (1), always level; its label lies outside. Where one side reaches less
 * far, the bar ends beside that side, clear of its labels.
 */
function joining(left: PlacedRing | undefined, right: PlacedRing | undefined, edge: -1 | 1): Bar | null {
  if (!left || !right) return null;
  const reachOf = ({ centre, outer }: PlacedRing) => centre.y + edge * (outer - 3);
  const y = edge < 0 ? Math.min(reachOf(left), reachOf(right)) : Math.max(reachOf(left), reachOf(right));
  const end = (ring: PlacedRing, inward: 1 | -1): Point => ({
    x:
      ring.centre.x +
      inward *
        (Math.abs(reachOf(ring) - y) < 1
          ? Math.sqrt(ring.outer ** 2 - (ring.outer - 14) ** 2) + 2
          : ring.outer + 20),
    y,
  });
  const [from, to] = [end(left, 1), end(right, -1)];
  return {
    from,
    to,
    label: { x: (from.x + to.x) / 2, y: y + edge * 10, anchor: 'middle' },
    isLabelAbove: edge < 0,
  };
}

function carina(rings: readonly PlacedRing[], pair: string, upper: string, lower: string): Bar | null {
  const ring = rings.find(({ structure }) => structure.structure === pair);
  if (ring) {
    const { centre, inner } = ring;
    const reach = inner - 10;
    return {
      from: { x: centre.x - reach, y: centre.y },
      to: { x: centre.x + reach, y: centre.y },
      label: { x: centre.x, y: centre.y + 9, anchor: 'middle' },
      crosses: pair,
    };
  }
  const has = (vein: string) => rings.some(({ structure }) => structure.structure === vein);
  const index = rings.findIndex(({ structure }) => structure.structure === upper);
  const [top, below] = [rings[index], rings[index + 1]];
  if (!top || !below || !has(lower)) return null;
  const outward = top.side === 'left' ? -1 : 1;
  const y = (top.centre.y + top.outer + below.centre.y - below.outer) / 2;
  const x = top.centre.x + outward * 62;
  return {
    from: { x, y },
    to: { x: x + outward * 66, y },
    label: { x: x + outward * 76, y: y - 19, anchor: outward < 0 ? 'end' : 'start' },
  };
}

/** From the lower front of the left veins towards the mitral annulus. */
function mitral(ring: PlacedRing | undefined): Bar | null {
  if (!ring) return null;
  const degrees = ring.structure.kind === 'pair-ring' ? 202.5 : 212;
  const from = polar(ring.centre, ring.outer + 2, degrees);
  const to = polar(ring.centre, ring.outer + 66, degrees);
  return { from, to, label: { x: to.x - 16, y: to.y - 26, anchor: 'end' } };
}

/** In the right atrium, so it touches no ring. */
function cavotricuspid(ring: PlacedRing | undefined): Bar | null {
  if (!ring) return null;
  const y = ring.centre.y + ring.outer + 42;
  const x = ring.centre.x + 72;
  return { from: { x, y }, to: { x: x + 84, y }, label: { x: x + 42, y: y + 11, anchor: 'middle' } };
}
