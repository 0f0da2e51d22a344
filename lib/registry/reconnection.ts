import { inWords } from './in-words';
import { veinsInRing } from './lesion-anatomy';
import type { LesionElement } from './lesion-set';
import { kindOfStructure, STRUCTURES, segmentsOf } from './lesion-vocabulary';
import { labelOf } from './vocabulary';

/** An earlier case of the same patient with what was done in it. */
export interface EarlierSet {
  readonly ordinal: number;
  readonly performedOn: string;
  readonly elements: readonly LesionElement[];
}

/** What a case says of earlier lesion sets. */
export type Reconnections =
  /** A first procedure: nothing can have reconnected. */
  | { readonly kind: 'first'; readonly reports: readonly [] }
  /** A repeat whose earlier cases have no set by segments: only what was found now can be told. */
  | { readonly kind: 'unknown'; readonly reports: readonly []; readonly words: string }
  | { readonly kind: 'known'; readonly reports: readonly ReconnectionReport[] };

interface Checked {
  readonly structure: string;
  readonly segment: string;
  readonly found: 'reconnected' | 'held' | 'not-recorded';
}

export interface ReconnectionReport {
  readonly earlier: Pick<EarlierSet, 'ordinal' | 'performedOn'>;
  readonly segments: readonly Checked[];
  /** Veins and lines of that set with at least one place reconnected. */
  readonly reconnectedNames: readonly string[];
  readonly words: string;
}

/** What had become of the earlier lesion sets of a patient, whatever is known of them. */
export function reconnectionsAt(
  ordinal: number,
  elements: readonly LesionElement[],
  earlier: readonly EarlierSet[],
): Reconnections {
  if (ordinal === 1) return { kind: 'first', reports: [] };
  const reports = reconnectionsOf(elements, earlier);
  if (reports.length > 0) return { kind: 'known', reports };
  const found = namesOf(elements, elements);
  const now = found.length === 0 ? 'nothing is recorded as reconnected' : `reconnected: ${inWords(found)}`;
  return { kind: 'unknown', reports: [], words: `No earlier lesion set is recorded by segments; ${now}.` };
}

/**
 * What had become of each earlier lesion set at this repeat: every segment done then, with what was found now. A place found
 * reconnected in another ring round the same vein (a pair then, single veins now) counts for the vein, not for a segment.
 */
export function reconnectionsOf(
  elements: readonly LesionElement[],
  earlier: readonly EarlierSet[],
): ReconnectionReport[] {
  return earlier.flatMap((set) => {
    const done = set.elements.filter((element) => element.state === 'done');
    if (done.length === 0) return [];
    const segments = done.map(({ structure, segment }): Checked => {
      const now = elements.find((element) => element.structure === structure && element.segment === segment);
      const known = now?.reconnected ?? null;
      return { structure, segment, found: known === null ? 'not-recorded' : known ? 'reconnected' : 'held' };
    });
    const reconnectedNames = namesOf(elements, done);
    return [
      {
        earlier: { ordinal: set.ordinal, performedOn: set.performedOn },
        segments,
        reconnectedNames,
        words: wordsOf(segments, reconnectedNames),
      },
    ];
  });
}

/** Places recorded as reconnected of which no earlier set says that anything was done there. */
export function unexplainedReconnections(
  elements: readonly LesionElement[],
  earlier: readonly EarlierSet[],
): readonly LesionElement[] {
  const done = earlier.flatMap((set) => set.elements.filter((element) => element.state === 'done'));
  return elements.filter(
    (element) =>
      element.reconnected !== null && !done.some((other) => doOverlap(element.structure, other.structure)),
  );
}

/** True when two structures are the same, or rings round a vein that both isolate. */
function doOverlap(one: string, other: string): boolean {
  if (one === other) return true;
  const veins = veinsInRing(one);
  return veinsInRing(other).some((vein) => veins.includes(vein));
}

function namesOf(elements: readonly LesionElement[], done: readonly LesionElement[]): string[] {
  const found = elements.filter(
    (element) =>
      element.reconnected === true && done.some((other) => doOverlap(element.structure, other.structure)),
  );
  return STRUCTURES.filter(({ code }) => found.some((element) => element.structure === code)).map(
    ({ label }) => label.toLowerCase(),
  );
}

function wordsOf(segments: readonly Checked[], names: readonly string[]): string {
  const count = (found: Checked['found']) => segments.filter((segment) => segment.found === found).length;
  const places = segments.filter((segment) => segment.found === 'reconnected').map(placeOf);
  const rest = [
    `${count('held')} held`,
    ...(count('not-recorded') > 0 ? [`${count('not-recorded')} not recorded`] : []),
  ];
  const of = segments.length === 1 ? 'Of 1 place' : `Of ${segments.length} places`;
  const main =
    places.length === 0
      ? `${of} done then, none is recorded as reconnected, ${inWords(rest)}.`
      : `${of} done then, ${places.length} had reconnected (${inWords(places)}), ${inWords(rest)}.`;
  return names.length === 0 ? main : `Reconnected: ${inWords(names)}. ${main}`;
}

function placeOf({ structure, segment }: Checked): string {
  const name = labelOf(STRUCTURES, structure).toLowerCase();
  return kindOfStructure(structure) === 'line'
    ? name
    : `${name} ${labelOf(segmentsOf(structure), segment).toLowerCase()}`;
}
