import { kindOfStructure, STRUCTURES, segmentsOf, VEIN_RINGS } from '../lesion-vocabulary';
import { labelOf } from '../vocabulary';
import { ELEMENT_FIELD_LABELS, ELEMENT_FIELDS, type ElementField } from './lesion-fields';

export const ACUTE_LABELS = {
  measuredInRhythm: 'Measured in',
  entranceBlock: 'Entrance block',
  exitBlock: 'Exit block',
  waitingMinutes: 'Waiting time',
  drugChallenge: 'Drug challenge',
  drugChallengeResult: 'Result of the drug challenge',
  settledStrategy: 'Strategy as settled',
} as const;

export const veinLabel = (vein: string): string => labelOf(VEIN_RINGS, vein);

/** 'Left pair, anterior carina'; a line by its name alone. */
export function segmentLabel(structure: string, segment: string): string {
  const name = labelOf(STRUCTURES, structure);
  return kindOfStructure(structure) === 'line'
    ? name
    : `${name}, ${labelOf(segmentsOf(structure), segment).toLowerCase()}`;
}

/** 'Left pair, anterior carina, before'. */
export function elementLabel(structure: string, segment: string, field: ElementField): string {
  return `${segmentLabel(structure, segment)}, ${ELEMENT_FIELD_LABELS[field]}`;
}

/** Path of a field in the form. */
export function elementPath(structure: string, segment: string, field: ElementField) {
  return `elements.${structure}.${segment}.${field}` as const;
}

/** Words for every path of the form, for conflicts. */
export const LESION_LABELS: Readonly<Record<string, string>> = {
  ...ACUTE_LABELS,
  ...Object.fromEntries(
    VEIN_RINGS.map(({ code, label }) => [`veins.${code}`, `Anatomy: ${label.toLowerCase()}`]),
  ),
  ...Object.fromEntries(
    STRUCTURES.flatMap(({ code }) =>
      segmentsOf(code).flatMap((term) =>
        ELEMENT_FIELDS.map((field) => [
          elementPath(code, term.code, field),
          elementLabel(code, term.code, field),
        ]),
      ),
    ),
  ),
};
