import { deriveStrategy } from '../derived-strategy';
import { type Finding, refusal, warning } from '../findings';
import { lowerFirst } from '../in-words';
import { contradictionsOfVeins, sideOfRing, USUAL_VEINS, whyNotOffered } from '../lesion-anatomy';
import type { LesionElement } from '../lesion-set';
import { kindOfStructure } from '../lesion-vocabulary';
import { millivoltText } from '../millivolt';
import { type EarlierSet, unexplainedReconnections } from '../reconnection';
import type { Energy } from '../vocabulary';
import { ELEMENT_NUMBERS, type ElementField, WAITING_MINUTES } from './lesion-fields';
import type { LesionForm } from './lesion-form';
import { ACUTE_LABELS, elementLabel, elementPath, segmentLabel } from './lesion-labels';
import { warningsOfNumbers } from './plausibility';

export interface LesionContext {
  readonly ordinal: number;
  readonly energy: Energy | null;
  readonly deviceType: string | null;
  readonly intendedStrategy: string | null;
  /** True once a set is stored or the case is signed: a change needs a reason. */
  readonly needsReason: boolean;
  readonly earlier: readonly EarlierSet[];
}

/** Above this an amplitude is more likely a slip of the point. Common practice, no source. */
const USUAL_MOST_UV = 10_000;
const FARTHEST_USUAL_MM = 20;

/** What speaks against a lesion set once its case is known: refusals, and questions that may be kept as they are. */
export function checkLesionsAgainstCase(form: LesionForm, context: LesionContext): Finding[] {
  return [
    ...checkReason(form, context),
    ...checkVeins(form),
    ...checkRepeat(form, context),
    ...checkAcute(form),
    ...form.elements.flatMap(warningsOfElement),
    ...checkRings(form),
    ...checkSettled(form, context),
  ];
}

/** Stored for the sake of its ring only: nothing was typed of it. */
const isSilent = (element: LesionElement): boolean =>
  element.state === 'not-recorded' && element.amplitudeBeforeUv === null && element.reconnected === null;

const pathOf = ({ structure, segment }: LesionElement, field: ElementField) =>
  elementPath(structure, segment, field);

function checkReason({ reason }: LesionForm, { needsReason }: LesionContext): Finding[] {
  return needsReason && reason === null
    ? [refusal('reason', 'Reason for the change is missing. Choose one of the list.')]
    : [];
}

function checkVeins({ veins, elements }: LesionForm): Finding[] {
  const found = contradictionsOfVeins(veins).map((words) => refusal('veins', `Anatomy: ${words}`));
  const known = veins.length > 0 ? veins : USUAL_VEINS;
  for (const element of elements) {
    const why = whyNotOffered(known, element.structure);
    // Saying that a place does not exist is right where it does not.
    if (why === null || element.state === 'not-applicable' || isSilent(element)) continue;
    const path = pathOf(element, 'state');
    const where = segmentLabel(element.structure, element.segment);
    found.push(refusal(path, `${where}: ${why}. Empty it, call it not applicable, or change the veins.`));
  }
  return found;
}

function checkRepeat({ elements }: LesionForm, { ordinal, earlier }: LesionContext): Finding[] {
  if (ordinal === 1) {
    return elements
      .filter((element) => element.reconnected !== null)
      .map((element) =>
        refusal(
          pathOf(element, 'reconnected'),
          `${segmentLabel(element.structure, element.segment)}: at a first procedure nothing can have reconnected. Empty it.`,
        ),
      );
  }
  return unexplainedReconnections(elements, earlier).map((element) =>
    warning(
      pathOf(element, 'reconnected'),
      `${segmentLabel(element.structure, element.segment)}: no earlier lesion set says that anything was done there. Check the earlier case, or keep it.`,
    ),
  );
}

function checkAcute(form: LesionForm): Finding[] {
  const { entranceBlock, exitBlock, drugChallenge, drugChallengeResult, waitingMinutes } = form;
  const found = warningsOfNumbers({ waitingMinutes }, { waitingMinutes: WAITING_MINUTES });
  if (drugChallengeResult !== null && (drugChallenge === null || drugChallenge === 'none')) {
    found.push(
      refusal(
        'drugChallengeResult',
        `${ACUTE_LABELS.drugChallengeResult}: no drug is given. Choose the drug, or empty the result.`,
      ),
    );
  }
  if (exitBlock === 'all' && (entranceBlock === 'none' || entranceBlock === 'some')) {
    found.push(
      warning(
        'exitBlock',
        `${ACUTE_LABELS.exitBlock}: exit block without entrance block is rare. Check both, or keep them.`,
      ),
    );
  }
  return found;
}

function warningsOfElement(element: LesionElement): Finding[] {
  const { structure, segment, amplitudeBeforeUv, amplitudeAfterUv, distanceMm } = element;
  const label = (field: ElementField) => elementLabel(structure, segment, field);
  const question = (field: ElementField, words: string) =>
    warning(pathOf(element, field), `${label(field)}: ${words} Check it, or keep it.`);
  const numbers = Object.fromEntries(
    (['applications', 'totalSeconds'] as const).map((field) => [
      field,
      { ...ELEMENT_NUMBERS[field], label: label(field) },
    ]),
  );
  const found = warningsOfNumbers({ ...element }, numbers, `elements.${structure}.${segment}.`);
  if (distanceMm !== null && distanceMm > FARTHEST_USUAL_MM) {
    found.push(
      question('distanceMm', `${distanceMm} mm is more than ${FARTHEST_USUAL_MM} mm from the ostium.`),
    );
  }
  if (amplitudeBeforeUv !== null && amplitudeBeforeUv > USUAL_MOST_UV) {
    found.push(
      question(
        'amplitudeBefore',
        `${millivoltText(amplitudeBeforeUv)} mV is unusually high (usual up to 10 mV).`,
      ),
    );
  }
  if (amplitudeBeforeUv !== null && amplitudeAfterUv !== null && amplitudeAfterUv > amplitudeBeforeUv) {
    found.push(
      question(
        'amplitudeAfter',
        `${millivoltText(amplitudeAfterUv)} mV is higher than before (${millivoltText(amplitudeBeforeUv)} mV).`,
      ),
    );
  }
  return found;
}

function checkRings({ elements }: LesionForm): Finding[] {
  const done = [
    ...new Set(elements.filter(({ state }) => state === 'done').map(({ structure }) => structure)),
  ];
  const pairs = done.filter((structure) => kindOfStructure(structure) === 'pair-ring');
  return pairs.flatMap((pair) => {
    const other = done.find((ring) => ring !== pair && sideOfRing(ring) === sideOfRing(pair));
    const first = elements.find(({ structure }) => structure === other);
    return first === undefined
      ? []
      : [
          warning(
            pathOf(first, 'state'),
            `The ${sideOfRing(pair)} veins are ringed as a pair and by themselves (${lowerFirst(segmentLabel(first.structure, first.segment))}). Check it, or keep it.`,
          ),
        ];
  });
}

function checkSettled(form: LesionForm, { energy, deviceType, intendedStrategy }: LesionContext): Finding[] {
  if (form.settledStrategy === null) return [];
  const derived = deriveStrategy({ energy, deviceType, elements: form.elements }).strategy;
  const isOneOfBoth = form.settledStrategy === derived || form.settledStrategy === intendedStrategy;
  return isOneOfBoth
    ? []
    : [
        warning(
          'settledStrategy',
          `${ACUTE_LABELS.settledStrategy}: this is neither the operator’s label nor what the lesions show. Check it, or keep it.`,
        ),
      ];
}
