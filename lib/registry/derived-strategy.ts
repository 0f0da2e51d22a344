import { inWords } from './in-words';
import { kindOfStructure, LINES, STRUCTURES, segmentsOf } from './lesion-vocabulary';
import { type DerivedStrategy, type Energy, labelOf, NOT_DERIVABLE } from './vocabulary';

/** One recorded segment or line, as far as the strategy depends on it. */
export interface LesionFacts {
  readonly structure: string;
  readonly segment: string;
  readonly state: string;
  /** Distance from the ostium in mm, to tenths. */
  readonly distanceMm: number | null;
}

export interface CaseLesions {
  readonly energy: Energy | null;
  /** 'balloon' and 'multi-electrode' are single-shot whatever the energy; absent = not recorded. */
  readonly deviceType?: string | null;
  readonly elements: readonly LesionFacts[];
}

export interface DerivedStrategyResult {
  readonly strategy: DerivedStrategy;
  /** One or two plain sentences: why this strategy. */
  readonly reason: string;
  /** What a person should look at again; empty when nothing. */
  readonly warnings: readonly string[];
}

/** Rings closer than this are ostial, in tenths of mm; from here to `FARTHEST_TENTHS` they are wide. Ours, definition version 1. */
const WIDE_FROM_TENTHS = 80;
const FARTHEST_TENTHS = 200;
/** Share of a ring's segments whose distance must be known: 6 of 8, 3 of 4. */
const KNOWN_SHARE = 0.75;
const SINGLE_SHOT_ENERGIES: readonly (Energy | null)[] = ['cryo-balloon', 'laser'];
const SINGLE_SHOT_DEVICES: readonly string[] = ['balloon', 'multi-electrode'];
const COMMON_OSTIA: readonly string[] = ['lcpv', 'rcpv'];
const LINES_OF_WIDE: readonly string[] = ['roof', 'floor', 'mitral-isthmus'];

interface Ring {
  readonly structure: string;
  readonly label: string;
  readonly segments: number;
  /** Distances of the done segments in tenths of mm, ascending. */
  readonly tenths: readonly number[];
}

/** Twice the median, in tenths of mm: whole numbers, so that 8.0 is 8.0. */
const twiceMedian = ({ tenths }: Ring): number =>
  (tenths[Math.floor((tenths.length - 1) / 2)] ?? 0) + (tenths[Math.ceil((tenths.length - 1) / 2)] ?? 0);
const isOstial = (ring: Ring): boolean => twiceMedian(ring) < 2 * WIDE_FROM_TENTHS;
const isWide = (ring: Ring): boolean => !isOstial(ring) && twiceMedian(ring) <= 2 * FARTHEST_TENTHS;
const isKnown = (ring: Ring): boolean => ring.tenths.length >= KNOWN_SHARE * ring.segments;
const isPair = (ring: Ring): boolean => kindOfStructure(ring.structure) === 'pair-ring';
const isCommon = (ring: Ring): boolean => COMMON_OSTIA.includes(ring.structure);

/**
 * The strategy that the recorded lesions show. A ring takes part once one of its segments is done; its distance is the
 * median over its done segments with a distance, of which 6 of 8 (3 of 4) are needed.
 *
 * ostial: single-vein rings only, all medians under 8 mm. wide-encircling: pair rings only, all medians 8 to 20 mm.
 * wide-with-lines: the same plus a roof, floor or mitral isthmus line. A common ostium goes with either by its distance.
 * single-shot: balloon or multi-electrode devices. Anything else: mixed. Distances over 20 mm warn.
 */
export function deriveStrategy({ energy, deviceType, elements }: CaseLesions): DerivedStrategyResult {
  const done = elements.filter((element) => element.state === 'done');
  const rings = ringsOf(done);
  const lines = LINES.filter((line) => done.some((element) => element.structure === line.code));
  const warnings = farSegments(done);
  const answer = (strategy: DerivedStrategy, reason: string, ...more: string[]): DerivedStrategyResult => ({
    strategy,
    reason,
    warnings: [...warnings, ...more],
  });

  if (SINGLE_SHOT_ENERGIES.includes(energy) || SINGLE_SHOT_DEVICES.includes(deviceType ?? '')) {
    return answer('single-shot', 'A balloon or multi-electrode device was used.');
  }
  if (done.length === 0) return answer(NOT_DERIVABLE, 'No segment or line is recorded as done.');
  const unknown = rings.filter((ring) => !isKnown(ring));
  if (unknown.length > 0) return answer(NOT_DERIVABLE, tooFew(unknown));
  if (rings.length === 0)
    return answer('mixed', `${inWords(lines.map((line) => line.label))} without a ring.`);

  const medians = `Medians: ${inWords(rings.map((ring) => `${ring.label.toLowerCase()} ${twiceMedian(ring) / 20} mm`))}.`;
  if (rings.every((ring) => !isPair(ring) && isOstial(ring))) {
    const added = lines
      .filter((line) => LINES_OF_WIDE.includes(line.code))
      .map((line) => line.label.toLowerCase());
    const more =
      added.length > 0 ? [`Ostial rings with ${inWords(added)}: no strategy of the list has both.`] : [];
    return answer(
      'ostial',
      `Each vein by itself, all rings less than 8 mm from the ostium. ${medians}`,
      ...more,
    );
  }
  if (rings.every((ring) => (isPair(ring) || isCommon(ring)) && isWide(ring))) {
    const oneSide = rings.length === 1 ? ['Only one side is recorded as done.'] : [];
    const wideLines = lines
      .filter((line) => LINES_OF_WIDE.includes(line.code))
      .map((line) => line.label.toLowerCase());
    return wideLines.length > 0
      ? answer(
          'wide-with-lines',
          `Pairs encircled 8 to 20 mm from the ostia, plus ${inWords(wideLines)}. ${medians}`,
          ...oneSide,
        )
      : answer('wide-encircling', `Pairs encircled 8 to 20 mm from the ostia. ${medians}`, ...oneSide);
  }
  return answer('mixed', `${whyMixed(rings)} ${medians}`);
}

function ringsOf(done: readonly LesionFacts[]): Ring[] {
  return STRUCTURES.filter((structure) => kindOfStructure(structure.code) !== 'line').flatMap((structure) => {
    const own = done.filter((element) => element.structure === structure.code);
    if (own.length === 0) return [];
    const tenths = own
      .flatMap(({ distanceMm }) => (distanceMm === null ? [] : [Math.round(distanceMm * 10)]))
      .sort((a, b) => a - b);
    return [
      {
        structure: structure.code,
        label: structure.label,
        segments: segmentsOf(structure.code).length,
        tenths,
      },
    ];
  });
}

function tooFew(rings: readonly Ring[]): string {
  const each = rings.map(
    (ring) =>
      `${ring.label.toLowerCase()} ${ring.tenths.length} of ${ring.segments} (${KNOWN_SHARE * ring.segments} needed)`,
  );
  return `Too few done segments with a distance: ${inWords(each)}.`;
}

function whyMixed(rings: readonly Ring[]): string {
  if (rings.some((ring) => twiceMedian(ring) > 2 * FARTHEST_TENTHS))
    return 'A ring lies more than 20 mm from the ostium.';
  if (rings.some((ring) => isPair(ring) && isOstial(ring)))
    return 'A pair is encircled less than 8 mm from the ostia.';
  if (rings.every((ring) => !isPair(ring)))
    return 'Single veins are encircled, not all of them less than 8 mm from the ostium.';
  return 'Pair rings and rings of single veins are combined.';
}

function farSegments(done: readonly LesionFacts[]): string[] {
  return done
    .filter(
      ({ structure, distanceMm }) =>
        kindOfStructure(structure) !== 'line' && distanceMm !== null && distanceMm > 20,
    )
    .map(({ structure, segment, distanceMm }) => {
      const where = `${labelOf(STRUCTURES, structure)}, ${labelOf(segmentsOf(structure), segment).toLowerCase()}`;
      return `${where}: ${distanceMm} mm is more than 20 mm from the ostium. Check the distance.`;
    });
}
