import {
  kindOfStructure,
  REASONS_NOT_APPLICABLE,
  STATE_REASONS,
  type StateReason,
} from '../lesion-vocabulary';
import { labelOf } from '../vocabulary';
import type { ElementEntries } from './lesion-entries';
import { ELEMENT_FIELD_LABELS, type ElementField, FIELDS_OF_ABLATION } from './lesion-fields';
import { elementLabel, segmentLabel } from './lesion-labels';

interface FieldRefusal {
  readonly field: ElementField;
  readonly message: string;
}

/**
 * What contradicts itself within one segment. A field that could not be read is neither null nor a value here: nothing is
 * called missing that is there, and nothing is compared with it.
 */
export function refusalsOfElement(
  structure: string,
  segment: string,
  element: ElementEntries,
): FieldRefusal[] {
  const where = segmentLabel(structure, segment);
  return [
    ...refusalsOfState(where, structure, element),
    ...refusalsOfReason(where, element),
    ...refusalsOfTimes(structure, segment, element),
    ...refusalsOfBlock(where, structure, element),
  ];
}

const given = (element: ElementEntries, fields: readonly ElementField[]) =>
  fields.filter((field) => element[field] !== null);
const named = (fields: readonly ElementField[]) =>
  fields.map((field) => ELEMENT_FIELD_LABELS[field]).join(', ');

function refusalsOfState(where: string, structure: string, element: ElementEntries): FieldRefusal[] {
  const { state } = element;
  const ablated = given(element, FIELDS_OF_ABLATION);
  if (state === null && ablated.length > 0) {
    return [
      {
        field: 'state',
        message: `${where}: ${named(ablated)} given, but not whether it was done. Choose the state.`,
      },
    ];
  }
  if (state === 'not-done' && ablated.length > 0) {
    const what =
      kindOfStructure(structure) === 'line' && ablated.includes('block')
        ? 'There is no block without ablation: '
        : '';
    return [
      {
        field: 'state',
        message: `${where}: not done, and yet ${named(ablated)} given. ${what}choose Done, or empty the other fields.`,
      },
    ];
  }
  if (state !== 'not-applicable') return [];
  const anything = given(element, [...FIELDS_OF_ABLATION, 'amplitudeBefore', 'reconnected']);
  if (anything.length === 0) return [];
  return [
    {
      field: 'state',
      message: `${where}: not applicable, and yet ${named(anything)} given. Mend one of the two.`,
    },
  ];
}

function refusalsOfReason(where: string, { state, stateReason }: ElementEntries): FieldRefusal[] {
  const refuse = (message: string): FieldRefusal[] => [
    { field: 'stateReason', message: `${where}: ${message}` },
  ];
  if (state === 'not-applicable' && stateReason === null)
    return refuse('not applicable needs a reason. Choose why.');
  if (typeof stateReason !== 'string') return [];
  const reason = labelOf(STATE_REASONS, stateReason).toLowerCase();
  if (state === 'done' || state === null) {
    return refuse(
      `“${reason}” is a reason for what was not done or not applicable. Empty it, or change the state.`,
    );
  }
  const isForAbsent = REASONS_NOT_APPLICABLE.includes(stateReason satisfies StateReason);
  if (state === 'not-applicable' && !isForAbsent) {
    return refuse(`“${reason}” is why a place that exists was left. Choose Not done, or another reason.`);
  }
  return state === 'not-done' && isForAbsent
    ? refuse(`“${reason}” means that the place does not count. Choose Not applicable, or another reason.`)
    : [];
}

function refusalsOfTimes(structure: string, segment: string, element: ElementEntries): FieldRefusal[] {
  const { state, applications, totalSeconds, longestSeconds } = element;
  const found: FieldRefusal[] = [];
  const refuse = (field: ElementField, message: string) =>
    found.push({ field, message: `${elementLabel(structure, segment, field)}: ${message}` });
  const [count, total, longest] = [applications, totalSeconds, longestSeconds].map((value) =>
    typeof value === 'number' ? value : null,
  );
  if (state === 'done' && count === 0)
    refuse('applications', 'a segment that was done has at least one. Mend one of the two.');
  if (longest !== null && total !== null && longest > total) {
    refuse(
      'longestSeconds',
      `${longest} s is longer than all applications together (${total} s). Mend one of the two.`,
    );
  }
  // Both may have been rounded to whole seconds, the longest one up to half a second down for each application.
  if (
    count !== null &&
    count > 0 &&
    total !== null &&
    longest !== null &&
    total > (longest + 0.5) * count + 0.5
  ) {
    refuse(
      'totalSeconds',
      `${count} applications of at most ${longest} s make at most ${longest * count} s, not ${total} s. Mend one of the three.`,
    );
  }
  return found;
}

function refusalsOfBlock(where: string, structure: string, element: ElementEntries): FieldRefusal[] {
  const isLine = kindOfStructure(structure) === 'line';
  const foreign = given(element, isLine ? ['distanceMm', 'firstPass'] : ['block', 'blockTest']);
  const whose = isLine ? 'a ring, not a line' : 'a line, not a ring';
  const found: FieldRefusal[] = foreign.map((field) => ({
    field,
    message: `${where}: ${ELEMENT_FIELD_LABELS[field]} belongs to ${whose}. Empty it.`,
  }));
  if (isLine && element.block === null && element.blockTest !== null) {
    found.push({
      field: 'block',
      message: `${where}: how block was tested is given, but not what was found. Choose it.`,
    });
  }
  return found;
}
