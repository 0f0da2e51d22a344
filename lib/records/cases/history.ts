import 'server-only';
import { segmentLabel } from '../../registry/forms/lesion-labels';
import type { Actor } from '../actor';
import { readPeopleNames } from './people-names';
import { openedTrail } from './trail';

export interface HistoryEntry {
  readonly seq: string;
  /** UTC instant. */
  readonly at: string;
  /** Code and role of the person, or the program's name. */
  readonly who: string;
  readonly action: string;
  readonly entity: string;
  /** Segment of a lesion set that the change is about; null for any other row. */
  readonly place: string | null;
  readonly reason: string;
  /** Fields that differ, as stored texts; a new row lists what it began with. */
  readonly changes: readonly { readonly field: string; readonly from: string; readonly to: string }[];
}

/** Columns that every row carries and nobody reads. */
const SILENT = new Set([
  'labId',
  'id',
  'version',
  'createdAt',
  'patientId',
  'procedureId',
  'procedurePerformedOn',
  // Each device day of an import: the entry says how many and of when.
  'values',
]);
const HIDDEN = new Set(['hospitalNumberHash', 'hospitalNumberKeyId', 'importReferenceHash']);

const MOST_SHOWN = 200;

/** The trail of one patient, latest first, at most 200 entries; empty after erasure, when the key is gone. */
export async function readHistory(actor: Actor, patientId: string): Promise<HistoryEntry[]> {
  const { labId } = actor;
  const [entries, names] = await Promise.all([
    openedTrail(actor, patientId, 0n, MOST_SHOWN),
    readPeopleNames(labId),
  ]);
  if (!entries) return [];
  return entries.reverse().map(({ seq, at, actorId, action, entity, payload }) => ({
    seq: seq.toString(),
    at: at.toISOString(),
    who: names.get(actorId) ?? actorId,
    action,
    entity,
    place: placeOf(payload.after ?? payload.before),
    reason: payload.reason,
    changes: changesOf(payload.before ?? {}, payload.after ?? {}, names),
  }));
}

function placeOf(row: Readonly<Record<string, unknown>> | null): string | null {
  const { structure, segment } = row ?? {};
  return typeof structure === 'string' && typeof segment === 'string'
    ? segmentLabel(structure, segment)
    : null;
}

function changesOf(
  before: Record<string, unknown>,
  after: Record<string, unknown>,
  names: ReadonlyMap<string, string>,
): HistoryEntry['changes'] {
  // A person is shown by code and role, as everywhere.
  const wordsOf = (field: string, value: unknown) => {
    const text = textOf(value);
    return field.endsWith('ById') ? (names.get(text) ?? text) : text;
  };
  const fields = [...new Set([...Object.keys(before), ...Object.keys(after)])].sort();
  return fields.flatMap((field) => {
    if (SILENT.has(field)) return [];
    const [from, to] = [wordsOf(field, before[field]), wordsOf(field, after[field])];
    if (from === to) return [];
    return HIDDEN.has(field) ? [{ field, from: 'hidden', to: 'hidden' }] : [{ field, from, to }];
  });
}

function textOf(value: unknown): string {
  if (value === null || value === undefined) return '';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return /^\d{4}-\d{2}-\d{2}T00:00:00\.000Z$/.test(text) ? text.slice(0, 10) : text;
}
