import { type Structure, segmentsOf } from '../lib/registry/lesion-vocabulary';
import type { Anatomy } from './anatomy';
import { type Delivered, LABELS } from './parameters';
import type { RandomStream } from './random';

/** One segment or line as written down. */
export interface Lesion {
  readonly structure: Structure;
  readonly segment: string;
  readonly state: 'done' | 'not-done' | 'not-applicable' | 'not-recorded';
  readonly stateReason: string | null;
  readonly distanceMm: number | null;
  readonly amplitudeBeforeUv: number | null;
  readonly amplitudeAfterUv: number | null;
  readonly applications: number | null;
  readonly totalSeconds: number | null;
  readonly longestSeconds: number | null;
  readonly firstPass: boolean | null;
  readonly finalCheck: boolean | null;
  readonly block: string | null;
  readonly blockTest: string | null;
  readonly vagalResponse: boolean | null;
  readonly reconnected: boolean | null;
}

export interface LesionPlan {
  readonly delivered: Delivered;
  readonly anatomy: Anatomy;
  /** A repeat finds some segments reconnected; closing gaps only, it ablates nothing else. */
  readonly isRepeat: boolean;
  readonly gapsOnly: boolean;
}

interface Ring {
  readonly structure: Structure;
  readonly isWide: boolean;
}

/** The lesion set of one radiofrequency case; single-shot devices have no segments. */
export function drawLesions(stream: RandomStream, plan: LesionPlan): Lesion[] {
  if (plan.delivered === 'single-shot') return [];
  const rings = ringsOf(plan);
  const poorRing = stream.happens(LABELS.notDerivable) ? stream.whole(0, rings.length - 1) : -1;
  return [
    ...rings.flatMap((ring, index) => drawRing(stream, ring, plan, index === poorRing)),
    ...drawLines(stream, plan),
  ];
}

function ringsOf({ delivered, anatomy }: LesionPlan): Ring[] {
  const single = (structures: readonly Structure[]) =>
    structures.map((structure) => ({ structure, isWide: false }));
  const wide = (structure: Structure): Ring => ({ structure, isWide: true });
  const wideLeft = wide(anatomy.left.includes('lcpv') ? 'lcpv' : 'left-pair');
  const wideRight = wide(anatomy.right.includes('rcpv') ? 'rcpv' : 'right-pair');
  if (delivered === 'ostial') return single([...anatomy.left, ...anatomy.right]);
  // Mixed: the left side in one wide ring, the right veins each by itself.
  if (delivered === 'mixed') return [wideLeft, ...single(anatomy.right)];
  return [wideLeft, wideRight];
}

const clamp = (low: number, value: number, high: number): number => Math.min(high, Math.max(low, value));
const tenths = (value: number): number => Math.round(value * 10) / 10;

function drawRing(stream: RandomStream, ring: Ring, plan: LesionPlan, isPoor: boolean): Lesion[] {
  const segments = segmentsOf(ring.structure);
  const ringMean = ring.isWide
    ? clamp(10, stream.normal(13.5, 1.8), 17.5)
    : clamp(3, stream.normal(4.9, 0.7), 6.2);
  // Of 8 segments 6 must be known, of 4 three: a poor ring leaves out one more than it may.
  const spare = segments.length / 4;
  const shuffled = segments
    .map((_, index) => ({ index, draw: stream.uniform() }))
    .sort((a, b) => a.draw - b.draw);
  const left = isPoor ? spare + 1 : Math.min(spare, [0, 1].filter(() => stream.happens(0.09)).length);
  const unrecorded = shuffled.slice(0, left).map(({ index }) => index);
  return segments.map((segment, index) => {
    const distance = stream.normal(ringMean, ring.isWide ? 1.7 : 0.9);
    const distanceMm = tenths(ring.isWide ? clamp(6, distance, 22) : clamp(1, distance, 9));
    const done = drawDone(stream, ring.structure, segment.code, plan.isRepeat);
    const base = { structure: ring.structure, segment: segment.code };
    if (unrecorded.includes(index)) {
      return stream.happens(0.5)
        ? { ...base, ...BLANK, state: 'not-recorded' }
        : { ...base, ...done, distanceMm: null, state: 'done' };
    }
    if (plan.gapsOnly && done.reconnected === false) {
      return { ...base, ...BLANK, state: 'not-done', reconnected: false };
    }
    return { ...base, ...done, distanceMm, state: 'done' };
  });
}

const BLANK = {
  stateReason: null,
  distanceMm: null,
  amplitudeBeforeUv: null,
  amplitudeAfterUv: null,
  applications: null,
  totalSeconds: null,
  longestSeconds: null,
  firstPass: null,
  finalCheck: null,
  block: null,
  blockTest: null,
  vagalResponse: null,
  reconnected: null,
};

/** Places where gaps are expected: the ridge beside the left veins, the septal side of the right ones. Common practice, no source. */
const isHardPlace = (structure: string, segment: string): boolean =>
  segment.startsWith('ante') &&
  ['left-pair', 'right-pair', 'lspv', 'lcpv', 'rspv', 'ripv'].includes(structure);

export const OPEN_SHARE = { usual: 0.025, hard: 0.09 };

function drawDone(stream: RandomStream, structure: Structure, segment: string, isRepeat: boolean) {
  const before = Math.round(clamp(60, Math.exp(stream.normal(6.85, 0.55)), 6000));
  const isOpen = stream.happens(isHardPlace(structure, segment) ? OPEN_SHARE.hard : OPEN_SHARE.usual);
  const share = isOpen ? stream.between(0.14, 0.5) : stream.between(0.015, 0.095);
  const after = isOpen ? Math.max(110, Math.round(before * share)) : Math.round(before * share);
  const applications = stream.whole(1, 5);
  const longest = stream.happens(0.015) ? stream.whole(61, 95) : stream.whole(12, 58);
  const [noBefore, noAfter, noTimes] = [0.05, 0.04, 0.06].map((missing) => stream.happens(missing));
  const shorter = Math.round((applications - 1) * longest * stream.between(0.5, 0.95));
  return {
    ...BLANK,
    amplitudeBeforeUv: noBefore ? null : before,
    amplitudeAfterUv: noAfter ? null : after,
    applications: noTimes ? null : applications,
    totalSeconds: noTimes ? null : longest + shorter,
    longestSeconds: noTimes ? null : longest,
    firstPass: stream.happens(0.86),
    finalCheck: stream.happens(0.92),
    vagalResponse: stream.happens(0.05),
    reconnected: isRepeat ? stream.happens(0.24) : null,
  };
}

interface LinePlan {
  readonly structure: Extract<
    Structure,
    'roof' | 'floor' | 'mitral-isthmus' | 'carina-left' | 'carina-right' | 'cavotricuspid'
  >;
  readonly share: number;
  /** Share of lines that end with block in both directions; published series: roof 81 %, mitral isthmus 76 %, box 60 %. */
  readonly blockShare: number;
}

const ADDED_LINES: readonly LinePlan[] = [
  { structure: 'roof', share: 0.92, blockShare: 0.81 },
  { structure: 'floor', share: 0.5, blockShare: 0.6 },
  { structure: 'mitral-isthmus', share: 0.42, blockShare: 0.76 },
];
const OTHER_LINES: readonly LinePlan[] = [
  { structure: 'carina-left', share: 0.14, blockShare: 0.9 },
  { structure: 'carina-right', share: 0.12, blockShare: 0.9 },
  { structure: 'cavotricuspid', share: 0.2, blockShare: 0.95 },
];

function drawLines(stream: RandomStream, { delivered, anatomy, isRepeat }: LesionPlan): Lesion[] {
  const drawn = ADDED_LINES.map((line) => ({ line, isDone: stream.happens(line.share) }));
  const isAnyDone = drawn.some(({ isDone }) => isDone);
  const added = drawn.map(({ line, isDone }) => ({
    line,
    isDone: isDone || (!isAnyDone && line.structure === 'roof'),
  }));
  const others = OTHER_LINES.map((line) => ({ line, isDone: stream.happens(line.share) }));
  const hasLines = delivered === 'wide-with-lines';
  return [...added, ...others].map(({ line, isDone }): Lesion => {
    const { structure } = line;
    const details = drawLineDetails(stream, line, isRepeat);
    const base = { structure, segment: 'line', ...BLANK };
    const noCarina =
      (structure === 'carina-left' && anatomy.left.includes('lcpv')) ||
      (structure === 'carina-right' && anatomy.right.includes('rcpv'));
    if (noCarina) return { ...base, state: 'not-applicable', stateReason: 'common-ostium' };
    if (!isDone || (ADDED_LINES.includes(line) && !hasLines)) return { ...base, state: 'not-done' };
    return { ...base, ...details, state: 'done' };
  });
}

function drawLineDetails(stream: RandomStream, { blockShare }: LinePlan, isRepeat: boolean) {
  const applications = stream.whole(6, 18);
  const longestSeconds = stream.happens(0.02) ? stream.whole(61, 90) : stream.whole(15, 58);
  const isBlocked = stream.happens(blockShare);
  const isTested = stream.happens(0.95);
  return {
    applications,
    totalSeconds: longestSeconds + Math.round((applications - 1) * longestSeconds * stream.between(0.5, 0.9)),
    longestSeconds,
    finalCheck: stream.happens(0.92),
    block: isTested ? (isBlocked ? 'bidirectional' : 'none') : null,
    blockTest: isTested ? 'pacing' : null,
    reconnected: isRepeat ? stream.happens(0.2) : null,
  };
}
