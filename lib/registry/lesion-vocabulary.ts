import type { Term } from './vocabulary';

/** The eight segments of a ring round an ipsilateral pair, clockwise from the top as the text of the trade lists them. */
const PAIR_SEGMENTS = [
  { code: 'superior', label: 'Superior', definition: 'Above the superior vein, at the roof.' },
  {
    code: 'antero-superior',
    label: 'Antero-superior',
    definition: 'In front of the superior vein; left: the upper ridge towards the appendage.',
  },
  {
    code: 'anterior-carina',
    label: 'Anterior carina',
    definition: 'In front of the carina between the two veins; left: the ridge towards the appendage.',
  },
  { code: 'antero-inferior', label: 'Antero-inferior', definition: 'In front of the inferior vein.' },
  { code: 'inferior', label: 'Inferior', definition: 'Below the inferior vein, at the floor.' },
  { code: 'postero-inferior', label: 'Postero-inferior', definition: 'Behind the inferior vein.' },
  {
    code: 'posterior-carina',
    label: 'Posterior carina',
    definition: 'Behind the carina between the two veins.',
  },
  { code: 'postero-superior', label: 'Postero-superior', definition: 'Behind the superior vein.' },
] as const satisfies readonly [Term, ...Term[]];

/** The four quadrants of a ring round one ostium. */
const QUADRANTS = [
  { code: 'superior', label: 'Superior', definition: 'Upper quadrant of the ostium.' },
  { code: 'anterior', label: 'Anterior', definition: 'Front quadrant of the ostium.' },
  { code: 'inferior', label: 'Inferior', definition: 'Lower quadrant of the ostium.' },
  { code: 'posterior', label: 'Posterior', definition: 'Back quadrant of the ostium.' },
] as const satisfies readonly [Term, ...Term[]];

/** A line is one element: its only segment. */
const WHOLE_LINE = [
  { code: 'line', label: 'Line', definition: 'The line from end to end.' },
] as const satisfies readonly [Term, ...Term[]];

export const PAIR_RINGS = [
  { code: 'left-pair', label: 'Left pair', definition: 'One ring round both left veins.' },
  { code: 'right-pair', label: 'Right pair', definition: 'One ring round both right veins.' },
] as const satisfies readonly [Term, ...Term[]];

/** Veins that may be encircled by themselves; a common ostium counts as one. */
export const VEIN_RINGS = [
  { code: 'lspv', label: 'Left superior vein', definition: 'Left superior pulmonary vein.' },
  { code: 'lipv', label: 'Left inferior vein', definition: 'Left inferior pulmonary vein.' },
  {
    code: 'lmpv',
    label: 'Left middle vein',
    definition: 'Left middle pulmonary vein, with an ostium of its own.',
  },
  { code: 'lcpv', label: 'Left common ostium', definition: 'Both left veins by one ostium.' },
  { code: 'rspv', label: 'Right superior vein', definition: 'Right superior pulmonary vein.' },
  { code: 'ripv', label: 'Right inferior vein', definition: 'Right inferior pulmonary vein.' },
  {
    code: 'rmpv',
    label: 'Right middle vein',
    definition: 'Right middle pulmonary vein, with an ostium of its own.',
  },
  { code: 'rcpv', label: 'Right common ostium', definition: 'Both right veins by one ostium.' },
  {
    code: 'right-top',
    label: 'Right top vein',
    definition: 'A vein from the roof beside the right superior vein.',
  },
  { code: 'accessory', label: 'Accessory vein', definition: 'Any other additional vein.' },
] as const satisfies readonly [Term, ...Term[]];
export type VeinRing = (typeof VEIN_RINGS)[number]['code'];

export const LINES = [
  { code: 'roof', label: 'Roof line', definition: 'The upper posterior line, joining the two rings.' },
  { code: 'floor', label: 'Floor line', definition: 'The lower posterior line, joining the two rings.' },
  { code: 'carina-left', label: 'Left carina line', definition: 'Between the two left veins.' },
  { code: 'carina-right', label: 'Right carina line', definition: 'Between the two right veins.' },
  {
    code: 'mitral-isthmus',
    label: 'Mitral isthmus line',
    definition: 'From the mitral annulus to the left inferior vein.',
  },
  {
    code: 'cavotricuspid',
    label: 'Cavotricuspid isthmus line',
    definition: 'From the tricuspid annulus to the inferior caval vein.',
  },
] as const satisfies readonly [Term, ...Term[]];

export const STRUCTURES = [...PAIR_RINGS, ...VEIN_RINGS, ...LINES] as const;
export type Structure = (typeof STRUCTURES)[number]['code'];

export type StructureKind = 'pair-ring' | 'vein-ring' | 'line';

/** What kind a structure is, or null when the vocabulary does not know it. */
export function kindOfStructure(structure: string): StructureKind | null {
  const has = (list: readonly Term[]) => list.some((term) => term.code === structure);
  if (has(PAIR_RINGS)) return 'pair-ring';
  if (has(VEIN_RINGS)) return 'vein-ring';
  return has(LINES) ? 'line' : null;
}

/** The segments of a structure in order; none when the vocabulary does not know it. */
export function segmentsOf(structure: string): readonly Term[] {
  const kind = kindOfStructure(structure);
  if (kind === null) return [];
  return { 'pair-ring': PAIR_SEGMENTS, 'vein-ring': QUADRANTS, line: WHOLE_LINE }[kind];
}

/** Every segment that some structure has, each once. */
export const SEGMENTS: readonly Term[] = [
  ...new Map([...PAIR_SEGMENTS, ...QUADRANTS, ...WHOLE_LINE].map((term) => [term.code, term])).values(),
];

/** True when the segment belongs to the structure. */
export function isSegmentOf(structure: string, segment: string): boolean {
  return segmentsOf(structure).some((term) => term.code === segment);
}

/** Why a segment is not applicable, or was not done: chosen, not typed, so that no identifier slips in. */
export const STATE_REASONS = [
  {
    code: 'common-ostium',
    label: 'Common ostium',
    definition: 'Not applicable: the two veins open by one ostium, so there is no carina.',
  },
  {
    code: 'no-such-place',
    label: 'No such place here',
    definition: 'Not applicable: the anatomy has no place for it.',
  },
  {
    code: 'outside-plan',
    label: 'Outside the plan',
    definition: 'Not applicable: the strategy of this case has no place for it.',
  },
  {
    code: 'found-isolated',
    label: 'Found isolated',
    definition: 'Not done: no conduction was found there, so nothing had to be ablated.',
  },
  {
    code: 'near-oesophagus',
    label: 'Near the oesophagus',
    definition: 'Not done: too close to the oesophagus, or it warmed.',
  },
  {
    code: 'near-phrenic-nerve',
    label: 'Near the phrenic nerve',
    definition: 'Not done: pacing there captured the phrenic nerve.',
  },
  { code: 'not-reached', label: 'Not reached', definition: 'Not done: no stable contact was possible.' },
  {
    code: 'stopped-early',
    label: 'Procedure stopped early',
    definition: 'Not done: the procedure ended before it.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type StateReason = (typeof STATE_REASONS)[number]['code'];

/** Reasons that say a place does not exist or is not wanted; the others say why a place that exists was left. */
export const REASONS_NOT_APPLICABLE: readonly StateReason[] = [
  'common-ostium',
  'no-such-place',
  'outside-plan',
];

/** Conduction across a line after ablation. */
export const LINE_BLOCKS = [
  {
    code: 'bidirectional',
    label: 'Both ways',
    definition: 'No conduction across the line in either direction.',
  },
  {
    code: 'one-way',
    label: 'One way only',
    definition: 'Blocked in one direction, conducting in the other.',
  },
  { code: 'none', label: 'No block', definition: 'The line conducts in both directions.' },
] as const satisfies readonly [Term, ...Term[]];

/** How block across a line was tested. */
export const BLOCK_TESTS = [
  { code: 'pacing', label: 'Pacing', definition: 'Pacing on both sides of the line, one after the other.' },
  {
    code: 'activation',
    label: 'Activation',
    definition: 'The order of activation on the far side of the line.',
  },
  {
    code: 'double-potentials',
    label: 'Double potentials',
    definition: 'A corridor of separate double potentials along the whole line.',
  },
] as const satisfies readonly [Term, ...Term[]];

/** What is stored of a segment. */
export const ELEMENT_STATES = [
  { code: 'done', label: 'Done', definition: 'Energy was applied here.' },
  { code: 'not-done', label: 'Not done', definition: 'It could have been ablated and was not.' },
  {
    code: 'not-applicable',
    label: 'Not applicable',
    definition: 'The anatomy or plan has no place for it; a reason is given.',
  },
  { code: 'not-recorded', label: 'Not recorded', definition: 'Nobody wrote down whether it was done.' },
] as const satisfies readonly [Term, ...Term[]];

/** What is shown of a segment: the stored state, with "done" split by abatement (abatement.ts). */
export const SEGMENT_STATES = [
  {
    code: 'abated',
    label: 'Abated',
    definition: 'Done, and the electrogram meets a criterion of abatement.',
  },
  {
    code: 'still-open',
    label: 'Still open',
    definition: 'Done, and the electrogram meets no criterion of abatement.',
  },
  {
    code: 'not-recorded',
    label: 'Not recorded',
    definition: 'Whether it was done, or its electrogram, was not written down.',
  },
  { code: 'not-done', label: 'Not done', definition: 'It could have been ablated and was not.' },
  {
    code: 'not-applicable',
    label: 'Not applicable',
    definition: 'It cannot be judged here; the reason is given.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type SegmentState = (typeof SEGMENT_STATES)[number]['code'];
