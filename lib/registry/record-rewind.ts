/** A stored row in the shape of the trail: days and instants as text, decimals as text. */
export type TrailRow = Readonly<Record<string, unknown>>;

/** A row of the record by table and id. */
export interface RecordRow {
  readonly entity: string;
  readonly entityId: string;
  readonly row: TrailRow;
}

/** One change as the trail holds it. */
export interface TrailChange {
  readonly entity: string;
  readonly entityId: string;
  readonly before: TrailRow | null;
  readonly after: TrailRow | null;
}

/** The trail does not lead to what is stored: one of the two was changed behind the other's back. */
export class BrokenTrail extends Error {
  override readonly name = 'BrokenTrail';
}

/**
 * The rows as they were before `changes` happened: each change is taken back, the latest first, and must find what it once
 * left behind. Rows that no change touched stay as they are, whatever brought them in.
 * @throws BrokenTrail when a change did not leave what is there.
 */
export function rewind(rows: readonly RecordRow[], changes: readonly TrailChange[]): RecordRow[] {
  const record = new Map(rows.map((entry) => [keyOf(entry), entry]));
  for (const { entity, entityId, before, after } of [...changes].reverse()) {
    const key = keyOf({ entity, entityId });
    const found = record.get(key)?.row ?? null;
    if (!isSame(found, after)) {
      throw new BrokenTrail(`${entity} ${entityId}: the trail does not lead to what is stored.`);
    }
    if (before === null) record.delete(key);
    else record.set(key, { entity, entityId, row: before });
  }
  return [...record.values()];
}

const keyOf = ({ entity, entityId }: { entity: string; entityId: string }): string => `${entity} ${entityId}`;

/** Follows its parent by itself when a procedure's day moves, without a change of its own. */
const FOLLOWS = 'procedurePerformedOn';

/** Equal as records: columns that one side has never heard of (added since) count as empty. */
function isSame(a: TrailRow | null, b: TrailRow | null): boolean {
  if (a === null || b === null) return a === b;
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every(
    (name) => name === FOLLOWS || textOf(a[name]) === textOf(b[name]),
  );
}

const textOf = (value: unknown): string => {
  if (value === null || value === undefined || (Array.isArray(value) && value.length === 0)) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
};
