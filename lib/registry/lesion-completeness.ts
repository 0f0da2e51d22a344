import { inWords, lowerFirst } from './in-words';
import { type ShownSegment, type ShownStructure, stateWords } from './lesion-set';
import { segmentsOf } from './lesion-vocabulary';
import { labelOf } from './vocabulary';

/** Neighbouring segments round a ring where nothing holds, in ring order. */
interface Gap {
  readonly segments: readonly ShownSegment[];
  readonly words: string;
}

export interface Completeness {
  readonly structure: ShownStructure;
  /** 'unjudged': every segment was done, and some cannot be judged by their electrogram; 'not-done': none was done. */
  readonly verdict: 'complete' | 'unjudged' | 'incomplete' | 'not-done' | 'not-applicable';
  /** Segments that the anatomy and plan have a place for. */
  readonly applicable: number;
  readonly closed: number;
  /** Done, and the electrogram (of a line: the block) says it conducts. */
  readonly open: readonly ShownSegment[];
  readonly gaps: readonly Gap[];
  readonly words: string;
}

/** Not a place at all: it neither closes a ring nor leaves a gap in it. */
const isAbsent = (segment: ShownSegment) => segment.state === 'not-applicable' && !segment.doneUnjudged;
const isClosed = (segment: ShownSegment) =>
  segment.state === 'abated' || segment.doneUnjudged || segment.isHeld;
const isGap = (segment: ShownSegment) => !isAbsent(segment) && !isClosed(segment);

/**
 * How complete a ring or line is, computed from its segments: complete when each applicable one is abated, was found still
 * isolated at a repeat, or was done where electrograms cannot tell. A line is complete by block in both directions.
 */
export function completenessOf(structure: ShownStructure): Completeness {
  const present = structure.segments.filter((segment) => !isAbsent(segment));
  const closed = present.filter(isClosed);
  const unjudged = present.filter((segment) => segment.doneUnjudged);
  const gaps = gapsOf(structure);
  const verdict =
    present.length === 0
      ? 'not-applicable'
      : closed.length < present.length
        ? present.every(({ state, isHeld }) => state === 'not-done' && !isHeld)
          ? 'not-done'
          : 'incomplete'
        : unjudged.length > 0
          ? 'unjudged'
          : 'complete';
  const facts = {
    structure,
    verdict,
    applicable: present.length,
    closed: closed.length,
    open: present.filter((segment) => segment.state === 'still-open'),
    gaps,
  } as const;
  return { ...facts, words: structure.kind === 'line' ? wordsOfLine(structure) : wordsOfRing(facts) };
}

/**
 * Runs of neighbouring segments that are open, not done or not recorded. A ring has no beginning: a run may go over its top.
 * A place that does not exist is passed over, so its neighbours are neighbours of each other.
 */
function gapsOf({ kind, segments }: ShownStructure): Gap[] {
  const round = segments.filter((segment) => !isAbsent(segment));
  const runs: ShownSegment[][] = [];
  for (const [index, segment] of round.entries()) {
    if (!isGap(segment)) continue;
    const before = round[index - 1];
    if (before && isGap(before)) runs.at(-1)?.push(segment);
    else runs.push([segment]);
  }
  const [first, last] = [runs.at(0), runs.at(-1)];
  const isOverTop = runs.length > 1 && isGap(round[0]) && isGap(round[round.length - 1]);
  if (kind !== 'line' && isOverTop && first && last)
    runs.splice(0, runs.length, [...last, ...first], ...runs.slice(1, -1));
  return runs.map((run) => ({ segments: run, words: wordsOfRun(run, round.length) }));
}

const nameOf = ({ structure, segment }: ShownSegment) =>
  labelOf(segmentsOf(structure), segment).toLowerCase();

function wordsOfRun(run: readonly ShownSegment[], whole: number): string {
  if (run.length === whole) return `the whole ring (${countsOf(run)})`;
  const [first, last] = [run[0], run[run.length - 1]];
  if (run.length === 1) return `${nameOf(first)} (${stateWords(first)})`;
  return `${nameOf(first)} to ${nameOf(last)}, ${run.length} segments (${countsOf(run)})`;
}

/** '2 still open and 1 not recorded'; a single state stands without its count when all share it. */
function countsOf(segments: readonly ShownSegment[]): string {
  const counts = new Map<string, number>();
  for (const segment of segments) counts.set(stateWords(segment), (counts.get(stateWords(segment)) ?? 0) + 1);
  if (counts.size === 1) return [...counts.keys()].join('');
  return inWords([...counts].map(([words, count]) => `${count} ${words}`));
}

function wordsOfLine({ segments: [line] }: ShownStructure): string {
  return `${line.label}: ${lowerFirst(line.reason)}`;
}

function wordsOfRing(facts: Omit<Completeness, 'words'>): string {
  const { structure, verdict, applicable, closed, gaps } = facts;
  const { label, segments } = structure;
  const absent = segments.length - applicable;
  const left = absent === 0 ? '' : ` ${absent} not applicable.`;
  if (verdict === 'not-applicable') return `${label}: no segment is applicable.`;
  const held = segments.filter((segment) => segment.isHeld).length;
  const unjudged = segments.filter((segment) => segment.doneUnjudged).length;
  const parts = [
    ...(closed - held - unjudged > 0 || closed === 0 ? [`${closed - held - unjudged} abated`] : []),
    ...(unjudged > 0 ? [`${unjudged} done and not to be judged by its electrogram`] : []),
    ...(held > 0 ? [`${held} found still isolated`] : []),
  ];
  const title =
    verdict === 'incomplete'
      ? `${closed} of ${applicable} segments closed`
      : `all ${applicable} segments closed`;
  const open =
    gaps.length === 0
      ? ''
      : ` ${gaps.length === 1 ? 'Gap' : `${gaps.length} gaps`}: ${gaps.map((gap) => gap.words).join('; ')}.`;
  return `${label}: ${title}, ${inWords(parts)}.${open}${left}`;
}

/** The rings and lines that take part in a case: those of which something is recorded. */
export function recordedCompleteness(shown: readonly ShownStructure[]): Completeness[] {
  return shown.filter((structure) => structure.isRecorded).map(completenessOf);
}
