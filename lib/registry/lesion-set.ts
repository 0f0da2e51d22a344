import { segmentStateOf } from './abatement';
import { offeredStructures, USUAL_VEINS } from './lesion-anatomy';
import {
  kindOfStructure,
  LINE_BLOCKS,
  SEGMENT_STATES,
  type SegmentState,
  STATE_REASONS,
  STRUCTURES,
  type Structure,
  type StructureKind,
  segmentsOf,
} from './lesion-vocabulary';
import { labelOf } from './vocabulary';

/** One segment or line as stored. */
export interface LesionElement {
  readonly structure: string;
  readonly segment: string;
  readonly state: string;
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

export interface LesionSet {
  readonly energy: string | null;
  /** Veins of this anatomy; none = not recorded, and the usual four are assumed. */
  readonly veins: readonly string[];
  readonly elements: readonly LesionElement[];
}

/** A segment or line with the state in which it is shown. */
export interface ShownSegment {
  readonly structure: Structure;
  readonly segment: string;
  readonly label: string;
  readonly state: SegmentState;
  /** Done, but nobody can say from an electrogram whether it is abated. */
  readonly doneUnjudged: boolean;
  /** Not done here because it was found to hold since an earlier procedure. */
  readonly isHeld: boolean;
  readonly reason: string;
  readonly element: LesionElement;
}

export interface ShownStructure {
  readonly structure: Structure;
  readonly kind: StructureKind;
  readonly label: string;
  readonly isOffered: boolean;
  /** True once something is stored of one of its segments. */
  readonly isRecorded: boolean;
  readonly segments: readonly ShownSegment[];
}

/** A segment of which nothing is stored. */
export const blankElement = (structure: string, segment: string): LesionElement => ({
  structure,
  segment,
  state: 'not-recorded',
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
});

/**
 * A lesion set as it is shown: every ring and line that the anatomy offers, and whatever else is stored, each with all its
 * segments in order and their states. Where no veins are recorded, the usual four are assumed.
 */
export function shownSet({ energy, veins, elements }: LesionSet): ShownStructure[] {
  const offered: readonly string[] = offeredStructures(veins.length > 0 ? veins : USUAL_VEINS);
  const stored = new Map(elements.map((element) => [`${element.structure} ${element.segment}`, element]));
  return STRUCTURES.flatMap(({ code, label }) => {
    const kind = kindOfStructure(code);
    const isRecorded = elements.some(
      ({ structure, state }) => structure === code && state !== 'not-recorded',
    );
    const isOffered = offered.includes(code);
    if (kind === null || (!isOffered && !isRecorded)) return [];
    const segments = segmentsOf(code).map((term) => {
      const element = stored.get(`${code} ${term.code}`) ?? blankElement(code, term.code);
      return shownSegment(
        energy,
        code,
        kind === 'line' ? label : `${label}, ${term.label.toLowerCase()}`,
        element,
      );
    });
    return [{ structure: code, kind, label, isOffered, isRecorded, segments }];
  });
}

function shownSegment(
  energy: string | null,
  structure: Structure,
  label: string,
  element: LesionElement,
): ShownSegment {
  const isHeld = element.state === 'not-done' && element.reconnected === false;
  const base = { structure, segment: element.segment, label, element, isHeld, doneUnjudged: false };
  const why = element.stateReason === null ? null : labelOf(STATE_REASONS, element.stateReason);
  if (element.state === 'not-done') {
    const more = isHeld ? ' Found still isolated.' : why === null ? '' : ` ${why}.`;
    return { ...base, state: 'not-done', reason: `Not done.${more}` };
  }
  if (element.state === 'done' && kindOfStructure(structure) === 'line')
    return { ...base, ...lineState(element) };
  const { state, reason } = segmentStateOf(energy, {
    ...element,
    stateReason: why && `Not applicable: ${why.toLowerCase()}.`,
  });
  return { ...base, state, reason, doneUnjudged: element.state === 'done' && state === 'not-applicable' };
}

/** A line holds when nothing crosses it in either direction, whatever its electrograms look like. */
function lineState({ block }: LesionElement): { readonly state: SegmentState; readonly reason: string } {
  if (block === null) return { state: 'not-recorded', reason: 'Done. Whether it blocks is not recorded.' };
  if (block === 'bidirectional') return { state: 'abated', reason: 'Done. Block in both directions.' };
  return { state: 'still-open', reason: `Done. ${labelOf(LINE_BLOCKS, block)}.` };
}

/** The state in the words of a drawing and a table: a line is 'blocked', not 'abated'. */
export function stateWords({ state, structure, doneUnjudged, isHeld }: ShownSegment): string {
  if (doneUnjudged) return 'done, not judged';
  if (isHeld) return 'not done, still isolated';
  if (state === 'abated' && kindOfStructure(structure) === 'line') return 'blocked both ways';
  return labelOf(SEGMENT_STATES, state).toLowerCase();
}
