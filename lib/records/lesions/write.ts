import 'server-only';
import { randomUUID } from 'node:crypto';
import type { LesionForm } from '../../registry/forms/lesion-form';
import { lesionValuesByPath } from '../../registry/forms/lesion-values';
import { blankElement, type LesionElement } from '../../registry/lesion-set';
import { StaleEdit } from '../../runtime/application-error';
import type { Actor } from '../actor';
import { canonicalJson } from '../audit-chain';
import { amendedColumns } from '../case-states/write';
import type * as Models from '../generated/client';
import { type KeptValueEntry, keepValues } from '../kept-values/write';
import { type FormRequest, type OpenWrite, record } from '../record';
import { replaceApplications } from './applications';
import { KEPT_PREFIX, lesionElementOf, storedLesionsOf } from './stored-lesions';

export type WrittenLesions = { readonly id: string; readonly version: number };

/**
 * Stores the whole lesion set of a case with its anatomy and acute endpoint, as one write under the version of the procedure.
 * Segments that are no longer named are taken out; the trail keeps what each was. Throws StaleEdit with what is stored.
 */
export function recordLesions(
  actor: Actor,
  place: { readonly id: string; readonly patientId: string },
  form: LesionForm,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenLesions> {
  const { id, patientId } = place;
  const order = { action: 'lesions.record', reason: form.reason ?? 'entered', patientId, request };
  return record<WrittenLesions>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const key = { labId_id: { labId, id } };
    const { lesionElements, ...before } = await tx.procedure.findUniqueOrThrow({
      where: key,
      include: { lesionElements: true },
    });
    if (before.version !== form.version) {
      throw new StaleEdit(before.version, lesionValuesByPath(storedLesionsOf(before, lesionElements)));
    }
    const after = await tx.procedure.update({
      where: key,
      data: {
        ...columnsOf(form),
        version: { increment: 1 },
        ...amendedColumns(before),
      },
    });
    note({ entity: 'procedures', entityId: id, patientId, before, after });
    await replaceElements(open, place, lesionElements, form.elements);
    if (form.applications !== null) await replaceApplications(open, place, form.applications);
    await keepValues(open, place, kept, KEPT_PREFIX);
    return { id, version: after.version };
  });
}

function columnsOf(form: LesionForm) {
  return {
    veins: form.veins,
    measuredInRhythm: form.measuredInRhythm,
    entranceBlock: form.entranceBlock,
    exitBlock: form.exitBlock,
    waitingMinutes: form.waitingMinutes,
    drugChallenge: form.drugChallenge,
    drugChallengeResult: form.drugChallengeResult,
    settledStrategy: form.settledStrategy,
  };
}

const placeOf = ({ structure, segment }: Pick<LesionElement, 'structure' | 'segment'>) =>
  `${structure} ${segment}`;

async function replaceElements(
  { tx, labId, note }: OpenWrite,
  { id: procedureId, patientId }: { readonly id: string; readonly patientId: string },
  stored: readonly Models.LesionElement[],
  wanted: readonly LesionElement[],
): Promise<void> {
  const rows = new Map(stored.map((row) => [placeOf(row), row]));
  for (const element of wanted) {
    const before = rows.get(placeOf(element));
    rows.delete(placeOf(element));
    if (before === undefined) {
      const id = randomUUID();
      const after = await tx.lesionElement.create({ data: { labId, id, procedureId, ...element } });
      note({ entity: 'lesion_elements', entityId: id, patientId, before: null, after });
    } else if (canonicalJson(lesionElementOf(before)) !== canonicalJson(element)) {
      const after = await tx.lesionElement.update({
        where: { labId_id: { labId, id: before.id } },
        data: { ...element, version: { increment: 1 } },
      });
      note({ entity: 'lesion_elements', entityId: before.id, patientId, before, after });
    }
  }
  for (const before of rows.values()) {
    // A row that says "not recorded" and nothing else reads like no row: it may stay.
    if (
      canonicalJson(lesionElementOf(before)) === canonicalJson(blankElement(before.structure, before.segment))
    )
      continue;
    await tx.lesionElement.delete({ where: { labId_id: { labId, id: before.id } } });
    note({ entity: 'lesion_elements', entityId: before.id, patientId, before, after: null });
  }
}
