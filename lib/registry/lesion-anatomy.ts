import {
  LINES,
  PAIR_RINGS,
  STRUCTURES,
  type Structure,
  VEIN_RINGS,
  type VeinRing,
} from './lesion-vocabulary';
import { labelOf } from './vocabulary';

type Side = 'left' | 'right';

const PARTS = {
  left: {
    pair: 'left-pair',
    carina: 'carina-left',
    upper: 'lspv',
    lower: 'lipv',
    middle: 'lmpv',
    common: 'lcpv',
  },
  right: {
    pair: 'right-pair',
    carina: 'carina-right',
    upper: 'rspv',
    lower: 'ripv',
    middle: 'rmpv',
    common: 'rcpv',
  },
} as const satisfies Record<Side, Record<string, Structure>>;

/** The commonest anatomy: proposed where none is recorded, and said to be a proposal. */
export const USUAL_VEINS: readonly VeinRing[] = ['lspv', 'lipv', 'rspv', 'ripv'];

/** Veins in the order of the vocabulary, each once; words that it does not know are left out. */
export function sortVeins(veins: readonly string[]): VeinRing[] {
  return VEIN_RINGS.map((vein) => vein.code).filter((code) => veins.includes(code));
}

/**
 * Rings and lines that an anatomy offers, in the order of the vocabulary. A pair can be ringed where both its veins open by
 * themselves; a common ostium is one ring and leaves no place for a carina line.
 */
export function offeredStructures(veins: readonly string[]): Structure[] {
  const hasPair = (side: Side) => veins.includes(PARTS[side].upper) && veins.includes(PARTS[side].lower);
  const missing: string[] = (['left', 'right'] as const).flatMap((side) =>
    hasPair(side) ? [] : [PARTS[side].pair, PARTS[side].carina],
  );
  const offered: readonly string[] = [
    ...PAIR_RINGS.map(({ code }) => code),
    ...sortVeins(veins),
    ...LINES.map(({ code }) => code),
  ].filter((code) => !missing.includes(code));
  return STRUCTURES.map(({ code }) => code).filter((code) => offered.includes(code));
}

/** Why an anatomy has no place for a structure, in words; null when it has one. */
export function whyNotOffered(veins: readonly string[], structure: string): string | null {
  if (offeredStructures(veins).some((code) => code === structure)) return null;
  for (const side of ['left', 'right'] as const) {
    const parts = PARTS[side];
    if (structure !== parts.pair && structure !== parts.carina) continue;
    if (!veins.includes(parts.common)) return `this anatomy has no pair of ${side} veins`;
    return structure === parts.carina
      ? `the ${side} veins have a common ostium, so there is no carina line`
      : `the ${side} veins have a common ostium, which is a ring of its own`;
  }
  return `this anatomy has no ${labelOf(STRUCTURES, structure).toLowerCase()}`;
}

/** What contradicts itself in a set of veins, in words; empty when it can be. */
export function contradictionsOfVeins(veins: readonly string[]): string[] {
  return (['left', 'right'] as const).flatMap((side) => {
    const { common, upper, lower, middle } = PARTS[side];
    const apart = [upper, middle, lower].filter((vein) => veins.includes(vein));
    if (!veins.includes(common) || apart.length === 0) return [];
    const names = apart.map((vein) => labelOf(VEIN_RINGS, vein).toLowerCase()).join(' and ');
    return [
      `a ${labelOf(VEIN_RINGS, common).toLowerCase()} takes the place of the ${names}. Take out one of them; a further vein beside a common ostium is an accessory vein.`,
    ];
  });
}

/** The side on which a ring lies; lines and an accessory vein have none. */
export function sideOfRing(structure: string): Side | null {
  if (structure === 'right-top') return 'right';
  for (const side of ['left', 'right'] as const) {
    const { pair, upper, lower, middle, common } = PARTS[side];
    if ([pair, upper, lower, middle, common].some((code) => code === structure)) return side;
  }
  return null;
}

/** The veins that a ring isolates; the ring of a pair takes a middle vein in. */
export function veinsInRing(structure: string): VeinRing[] {
  for (const side of ['left', 'right'] as const) {
    const { pair, upper, middle, lower, common } = PARTS[side];
    if (structure === pair) return [upper, middle, lower];
    if (structure === common) return [upper, lower];
  }
  return sortVeins([structure]);
}

/** Rings that a new set begins with: each vein by itself for ostial work, else the pair of each side that has one. */
export function proposedRings(veins: readonly string[], intendedStrategy: string | null): Structure[] {
  const rings = offeredStructures(veins).filter((code) => !LINES.some((line) => line.code === code));
  const isPair = (code: string) => PAIR_RINGS.some((ring) => ring.code === code);
  if (intendedStrategy === 'ostial') return rings.filter((code) => !isPair(code));
  const pairedSides = rings.filter(isPair).map(sideOfRing);
  return rings.filter(
    (code) => isPair(code) || (sideOfRing(code) !== null && !pairedSides.includes(sideOfRing(code))),
  );
}

/** Rings that a form begins with: those of which something is recorded, and for a side without any what its plan proposes. */
export function ringsToBeginWith(
  veins: readonly string[],
  intendedStrategy: string | null,
  recorded: readonly string[],
): string[] {
  const sides = recorded.map(sideOfRing);
  const proposed = proposedRings(veins, intendedStrategy).filter((ring) => !sides.includes(sideOfRing(ring)));
  return [...recorded, ...proposed];
}
