import { sideOfRing } from '@/lib/registry/lesion-anatomy';
import type { ShownStructure } from '@/lib/registry/lesion-set';
import { segmentsOf, VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { cornersOf, polar, sectorPath } from './schematic-geometry';
import { type Label, LINE_HEIGHT, labelBeside, shortWords } from './schematic-labels';
import { layBars } from './schematic-lines';
import type { DrawnPart, PlacedRing } from './schematic-parts';

export interface SchematicLayout {
  readonly width: number;
  readonly height: number;
  readonly parts: readonly DrawnPart[];
  readonly titles: readonly Label[];
}

const WIDTH = 990;
const CENTRES = { left: 245, right: 745 };
/** Room above the uppermost and below the lowest ring for labels and for lines that hang below. */
const [ABOVE, BELOW] = [62, 108];
const RADII = { pair: [114, 73], common: [96, 56], vein: [68, 36] } as const;

/**
 * Lays a lesion set out as the left atrium unrolled from behind: left veins left, right veins right, their posterior sides
 * facing each other, rings of single veins one above the other, lines between and beside the rings.
 */
export function layOut(shown: readonly ShownStructure[]): SchematicLayout {
  const drawn = drawnRings(shown);
  const hasReconnection = shown.some(({ segments }) =>
    segments.some(({ element }) => element.reconnected === true),
  );
  const linesOfText = hasReconnection ? 3 : 2;
  const gap = 2 * linesOfText * LINE_HEIGHT + 18;
  const left = drawn.filter(({ side }) => side === 'left');
  const right = drawn.filter(({ side }) => side === 'right');
  const heightOf = (rings: typeof drawn) =>
    rings.reduce((sum, { radii }) => sum + 2 * radii[0], 0) + gap * Math.max(0, rings.length - 1);
  const tallest = Math.max(heightOf(left), heightOf(right), 2 * RADII.pair[0]);
  const above = ABOVE + (linesOfText - 2) * LINE_HEIGHT;
  // Two or more rings reach from the top to the bottom, so that lines between both sides run level; a single one stands midway.
  const place = (rings: typeof drawn): PlacedRing[] => {
    const spare = tallest - heightOf(rings);
    const step = rings.length > 1 ? gap + spare / (rings.length - 1) : gap;
    let y = above + (rings.length > 1 ? 0 : spare / 2);
    return rings.map(({ structure, side, radii: [outer, inner] }) => {
      const centre = { x: CENTRES[side], y: y + outer };
      y += 2 * outer + step;
      return { structure, side, centre, outer, inner };
    });
  };
  const rings = [...place(left), ...place(right)];
  const height = above + tallest + BELOW;
  const bars = layBars(shown, rings);
  return {
    width: WIDTH,
    height,
    parts: [...rings.flatMap(partsOfRing), ...bars.parts],
    titles: rings.map((ring) => titleOf(ring, bars.crossed.includes(ring.structure.structure))),
  };
}

/** The rings that something is recorded of; a side without any shows what its anatomy would have, empty. */
function drawnRings(shown: readonly ShownStructure[]) {
  const rings = shown.filter(({ kind }) => kind !== 'line');
  const recorded = rings.filter(({ isRecorded }) => isRecorded);
  const onSide = (list: readonly ShownStructure[], side: 'left' | 'right') =>
    list.filter(({ structure }) => sideOfRing(structure) === side);
  const empty = (side: 'left' | 'right') => {
    const own = onSide(rings, side);
    const pairs = own.filter(({ kind }) => kind === 'pair-ring');
    return pairs.length > 0 ? pairs : own;
  };
  const homeless = recorded.filter(({ structure }) => sideOfRing(structure) === null);
  return (['left', 'right'] as const).flatMap((side) => {
    const own = onSide(recorded, side);
    const all = [...(own.length > 0 ? own : empty(side)), ...(side === 'left' ? homeless : [])];
    return fromTopToBottom(all).map((structure) => ({ structure, side, radii: radiiOf(structure) }));
  });
}

const ORDER = [
  'right-top',
  'left-pair',
  'right-pair',
  'lcpv',
  'rcpv',
  'lspv',
  'rspv',
  'lmpv',
  'rmpv',
  'lipv',
  'ripv',
  'accessory',
];
const fromTopToBottom = (rings: readonly ShownStructure[]) =>
  [...rings].sort((a, b) => ORDER.indexOf(a.structure) - ORDER.indexOf(b.structure));

function radiiOf({ kind, structure }: ShownStructure): readonly [number, number] {
  if (kind === 'pair-ring') return RADII.pair;
  return structure === 'lcpv' || structure === 'rcpv' ? RADII.common : RADII.vein;
}

function partsOfRing(ring: PlacedRing): DrawnPart[] {
  const { structure, side, centre, outer, inner } = ring;
  const step = 360 / structure.segments.length;
  return structure.segments.map((segment, index) => {
    // The vocabulary goes from the top to the front: anticlockwise on the left, clockwise on the right.
    const degrees = (side === 'left' ? 360 - step * index : step * index) % 360;
    const sector = { centre, outer, inner, degrees, half: step / 2 };
    const [a, b, c, d] = cornersOf(sector);
    const name = labelOf(segmentsOf(structure.structure), segment.segment).toLowerCase();
    return {
      segment,
      path: sectorPath(sector),
      cross: `M${a.x} ${a.y}L${c.x} ${c.y}M${b.x} ${b.y}L${d.x} ${d.y}`,
      middle: polar(centre, (outer + inner) / 2, degrees),
      size: { x: outer - inner, y: outer - inner },
      edge: polar(centre, inner, degrees),
      label: labelBeside(ring, degrees, [name, ...shortWords(segment)]),
    };
  });
}

/** The name of a ring, inside it; above the middle where a carina line crosses it. */
function titleOf({ structure, centre }: PlacedRing, isCrossed: boolean): Label {
  const name =
    structure.kind === 'vein-ring'
      ? labelOf(VEIN_RINGS, structure.structure).replace(/ (vein|ostium)$/, '')
      : structure.label;
  const lines = structure.kind === 'vein-ring' ? name.split(' ') : [name];
  const y = isCrossed ? centre.y - 26 : centre.y + 5 - ((lines.length - 1) * LINE_HEIGHT) / 2;
  return { x: centre.x, y, anchor: 'middle', lines };
}
