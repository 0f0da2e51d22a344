import { z } from 'zod';
import { CHALLENGE_RESULTS, DRUG_CHALLENGES, MEASURED_RHYTHMS, VEIN_BLOCKS } from '../acute-vocabulary';
import { sortVeins } from '../lesion-anatomy';
import { blankElement, type LesionElement } from '../lesion-set';
import { STRUCTURES, segmentsOf, VEIN_RINGS } from '../lesion-vocabulary';
import { AMENDMENT_REASONS, STRATEGIES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { applicationEntries } from './application-entries';
import { choiceEntry, numberEntry, tickEntry } from './entries';
import { keptEntries } from './kept-values';
import { refusalsOfElement } from './lesion-element-checks';
import { type ElementEntries, elementEntries } from './lesion-entries';
import { ELEMENT_FIELDS, WAITING_MINUTES } from './lesion-fields';
import { ACUTE_LABELS, veinLabel } from './lesion-labels';

const elementShape = Object.fromEntries(
  STRUCTURES.map(({ code }) => {
    const segments = segmentsOf(code).map(
      (term) => [term.code, elementEntries(code, term.code).optional()] as const,
    );
    return [code, z.strictObject(Object.fromEntries(segments)).optional()] as const;
  }),
);
const veinShape = Object.fromEntries(
  VEIN_RINGS.map(({ code }) => [code, tickEntry(veinLabel(code))] as const),
);

const shape = {
  /** A tick for each vein of this anatomy. */
  veins: z.strictObject(veinShape),
  measuredInRhythm: choiceEntry(ACUTE_LABELS.measuredInRhythm, MEASURED_RHYTHMS),
  entranceBlock: choiceEntry(ACUTE_LABELS.entranceBlock, VEIN_BLOCKS),
  exitBlock: choiceEntry(ACUTE_LABELS.exitBlock, VEIN_BLOCKS),
  waitingMinutes: numberEntry(WAITING_MINUTES),
  drugChallenge: choiceEntry(ACUTE_LABELS.drugChallenge, DRUG_CHALLENGES),
  drugChallengeResult: choiceEntry(ACUTE_LABELS.drugChallengeResult, CHALLENGE_RESULTS),
  settledStrategy: choiceEntry(ACUTE_LABELS.settledStrategy, STRATEGIES),
  /** By structure and segment; what is left out has nothing recorded. */
  elements: z.strictObject(elementShape),
  /** Single applications that a file brought, row by row as typed; null leaves the stored ones as they are. */
  applications: applicationEntries,
  kept: keptEntries,
  version: amendmentShape.version,
  /** Needed once a set is stored (lesion-checks.ts); the first entry has none. */
  reason: choiceEntry('Reason for the change', AMENDMENT_REASONS),
};

function eachElement<Element>(
  elements: Readonly<Record<string, Readonly<Record<string, Element | undefined>> | undefined>>,
) {
  return STRUCTURES.flatMap(({ code: structure }) =>
    segmentsOf(structure).flatMap(({ code: segment }) => {
      const element = elements[structure]?.[segment];
      return element === undefined ? [] : [{ structure, segment, element }];
    }),
  );
}

/**
 * The whole lesion set of a case as typed: all findings at once, by path ('elements.left-pair.superior.amplitudeAfter'). What
 * comes out is the set as it is stored: veins in order, amplitudes in microvolt, and of each ring of which something was typed
 * every segment, those left empty as 'not recorded', so that what is missing can be counted.
 */
export const lesionFormSchema = z
  .strictObject(shape)
  .superRefine((form, context) => {
    for (const { structure, segment, element } of eachElement(form.elements)) {
      for (const { field, message } of refusalsOfElement(structure, segment, element)) {
        context.addIssue({ code: 'custom', path: ['elements', structure, segment, field], message });
      }
    }
  })
  .transform(({ veins, elements, ...form }) => ({
    ...form,
    veins: sortVeins(Object.keys(veins).filter((vein) => veins[vein])),
    elements: storedElements(elements),
  }));

export type LesionFormInput = z.input<typeof lesionFormSchema>;
export type LesionForm = z.output<typeof lesionFormSchema>;

const isBlank = (element: ElementEntries): boolean =>
  ELEMENT_FIELDS.every((field) => element[field] === null);

function storedElements(elements: Parameters<typeof eachElement<ElementEntries>>[0]): LesionElement[] {
  return STRUCTURES.flatMap(({ code: structure }) => {
    const typed = elements[structure] ?? {};
    if (Object.values(typed).every((element) => element === undefined || isBlank(element))) return [];
    return segmentsOf(structure).map(({ code: segment }) => {
      const element = typed[segment];
      return element === undefined
        ? blankElement(structure, segment)
        : storedElement(structure, segment, element);
    });
  });
}

function storedElement(structure: string, segment: string, element: ElementEntries): LesionElement {
  const { state, amplitudeBefore, amplitudeAfter, ...rest } = element;
  return {
    structure,
    segment,
    ...rest,
    state: state ?? 'not-recorded',
    amplitudeBeforeUv: amplitudeBefore,
    amplitudeAfterUv: amplitudeAfter,
  };
}
