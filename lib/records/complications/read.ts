import 'server-only';
import type { CalendarDay } from '../../registry/calendar-day';
import { caseCode } from '../../registry/cohort';
import { type ComplicationFacts, isToAdjudicate, isUnresolved } from '../../registry/complication-standing';
import type { Verdict } from '../../registry/complication-vocabulary';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import { decodeComplication, decodeHarms, decodeSeverity, decodeVerdict } from '../decode';
import type { Complication } from '../generated/client';

/** A complication with both of its states, and who stands behind each. */
export interface ComplicationRead {
  readonly id: string;
  readonly version: number;
  readonly procedureId: string;
  readonly performedOn: CalendarDay;
  readonly reported: ComplicationFacts;
  readonly reportedById: string | null;
  /** Codes shown for people; null for what a program brought. */
  readonly reportedBy: string | null;
  readonly treatment: string | null;
  readonly outcome: string | null;
  readonly attribution: string | null;
  readonly resolvedOn: CalendarDay | null;
  readonly adjudication:
    | { readonly verdict: Exclude<Verdict, 'refuted'>; readonly facts: ComplicationFacts }
    | { readonly verdict: 'refuted' }
    | null;
  readonly adjudicatedBy: string | null;
  /** UTC instant. */
  readonly adjudicatedAt: string | null;
  readonly isVoided: boolean;
  readonly voidedReason: string | null;
}

/** Every complication of a case, voided and refuted ones too, in order of onset. */
export async function readComplications(actor: Actor, procedureId: string): Promise<ComplicationRead[]> {
  const { labId } = actor;
  const [rows, people] = await Promise.all([
    database().complication.findMany({
      where: { labId, procedureId },
      orderBy: [{ onsetOn: 'asc' }, { id: 'asc' }],
    }),
    readCodes(labId),
  ]);
  return rows.map((row) => complicationOf(row, people));
}

/** One complication; null when the lab has none with this id. */
export async function readComplication(actor: Actor, id: string): Promise<ComplicationRead | null> {
  const { labId } = actor;
  const row = await database().complication.findUnique({ where: { labId_id: { labId, id } } });
  return row && complicationOf(row, await readCodes(labId));
}

export interface OpenComplication extends ComplicationRead {
  readonly caseCode: string;
}

/** What the lab still has to do about complications, oldest onset first: to adjudicate, and not yet resolved. */
export async function readOpenComplications(
  actor: Actor,
): Promise<{ toAdjudicate: OpenComplication[]; unresolved: OpenComplication[] }> {
  const { labId } = actor;
  const [rows, people] = await Promise.all([
    database().complication.findMany({
      where: { labId, voidedAt: null, OR: [{ adjudicatedAt: null }, { resolvedOn: null }] },
      include: {
        procedure: { select: { ordinal: true, patient: { select: { code: true, diedOn: true } } } },
      },
      orderBy: [{ onsetOn: 'asc' }, { id: 'asc' }],
    }),
    readCodes(labId),
  ]);
  const open = rows.map(({ procedure: { ordinal, patient }, ...row }) => ({
    complication: { ...complicationOf(row, people), caseCode: caseCode(patient.code, ordinal) },
    diedOn: dayFromDateOrNull(patient.diedOn),
  }));
  return {
    toAdjudicate: open.flatMap(({ complication }) => (isToAdjudicate(complication) ? [complication] : [])),
    unresolved: open.flatMap(({ complication, diedOn }) =>
      isUnresolved(complication, { diedOn }) ? [complication] : [],
    ),
  };
}

async function readCodes(labId: string): Promise<ReadonlyMap<string, string>> {
  const people = await database().user.findMany({ where: { labId }, select: { id: true, code: true } });
  return new Map(people.map(({ id, code }) => [id, code]));
}

/** The state that was reported, as stored. */
export function reportedFacts(row: Complication): ComplicationFacts {
  return {
    type: decodeComplication(row.type),
    onsetOn: dayFromDate(row.onsetOn),
    harms: decodeHarms(row.harms),
    severity: decodeSeverity(row.severity),
  };
}

/** The state that was adjudicated; null without a verdict, and where the complication was refuted. */
export function judgedFactsOf(row: Complication): ComplicationFacts | null {
  const adjudication = adjudicationOf(row);
  return adjudication === null || adjudication.verdict === 'refuted' ? null : adjudication.facts;
}

function adjudicationOf(row: Complication): ComplicationRead['adjudication'] {
  if (row.adjudicatedVerdict === null) return null;
  const verdict = decodeVerdict(row.adjudicatedVerdict);
  if (verdict === 'refuted') return { verdict };
  const { adjudicatedType: type, adjudicatedSeverity: severity, adjudicatedOnsetOn: onsetOn } = row;
  if (type === null || severity === null || onsetOn === null) {
    throw new Error('a verdict without its facts: the database refuses such a row');
  }
  const facts = {
    type: decodeComplication(type),
    onsetOn: dayFromDate(onsetOn),
    harms: decodeHarms(row.adjudicatedHarms),
    severity: decodeSeverity(severity),
  };
  return { verdict, facts };
}

function complicationOf(row: Complication, people: ReadonlyMap<string, string>): ComplicationRead {
  const codeOf = (id: string | null) => (id === null ? null : (people.get(id) ?? null));
  return {
    id: row.id,
    version: row.version,
    procedureId: row.procedureId,
    performedOn: dayFromDate(row.procedurePerformedOn),
    reported: reportedFacts(row),
    reportedById: row.reportedById,
    reportedBy: codeOf(row.reportedById),
    treatment: row.treatment,
    outcome: row.outcome,
    attribution: row.attribution,
    resolvedOn: dayFromDateOrNull(row.resolvedOn),
    adjudication: adjudicationOf(row),
    adjudicatedBy: codeOf(row.adjudicatedById),
    adjudicatedAt: row.adjudicatedAt?.toISOString() ?? null,
    isVoided: row.voidedAt !== null,
    voidedReason: row.voidedReason,
  };
}
