import 'server-only';
import type { ProcedureFormInput } from '../../registry/forms/procedure-form';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import { procedureFormValues } from '../procedures/form-values';

interface SiblingCase {
  readonly id: string;
  readonly ordinal: number;
  readonly performedOn: string;
}

export interface CaseHead {
  readonly id: string;
  readonly version: number;
  readonly patientId: string;
  readonly patientCode: string;
  readonly ordinal: number;
  readonly performedOn: string;
  readonly operatorCode: string | null;
  readonly sex: string;
  readonly birthYear: number;
  readonly diedOn: string | null;
  readonly consentWithdrawnOn: string | null;
  readonly transferredOn: string | null;
  readonly derivedStrategy: string | null;
  /** Every procedure of the patient, this one among them, in order. */
  readonly procedures: readonly SiblingCase[];
  readonly values: ProcedureFormInput;
  /** Unusual values that were kept, by path, those of other forms behind their prefix; with the reason. */
  readonly keptValues: readonly { readonly field: string; readonly reason: string }[];
}

/** A case with its patient's facts, as read and as the form holds them; null when the lab has no such case. */
export async function readCase(actor: Actor, id: string): Promise<CaseHead | null> {
  const { labId } = actor;
  const row = await database().procedure.findUnique({
    where: { labId_id: { labId, id } },
    include: {
      baseline: true,
      keptValues: true,
      operator: true,
      patient: { include: { procedures: { orderBy: { ordinal: 'asc' } } } },
    },
  });
  if (!row) return null;
  const { patient, operator, baseline } = row;
  const analysis = await database().analysisRow.findUnique({
    where: { labId_procedureId: { labId, procedureId: id } },
    select: { derivedStrategy: true },
  });
  return {
    id,
    version: row.version,
    patientId: patient.id,
    patientCode: patient.code,
    ordinal: row.ordinal,
    performedOn: dayFromDate(row.performedOn),
    operatorCode: operator?.code ?? null,
    sex: patient.sex,
    birthYear: patient.birthYear,
    diedOn: dayFromDateOrNull(patient.diedOn),
    consentWithdrawnOn: dayFromDateOrNull(patient.consentWithdrawnOn),
    transferredOn: dayFromDateOrNull(patient.transferredOn),
    derivedStrategy: analysis?.derivedStrategy ?? null,
    procedures: patient.procedures.map((sibling) => ({
      id: sibling.id,
      ordinal: sibling.ordinal,
      performedOn: dayFromDate(sibling.performedOn),
    })),
    values: procedureFormValues(row, baseline, ownForm(row.keptValues)),
    keptValues: row.keptValues.map(({ field, reason }) => ({ field, reason })),
  };
}

/** Reasons of the procedure's own form; those of others stand behind a prefix. */
const ownForm = <Row extends { field: string }>(rows: readonly Row[]): Row[] =>
  rows.filter(({ field }) => !field.includes(':'));
