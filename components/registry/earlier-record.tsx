import { ScrollBox } from '@/components/tables/scroll-box';
import { DefinitionList } from '@/components/ui/definition-list';
import type { RecordRow } from '@/lib/registry/record-rewind';
import styles from './earlier-record.module.css';
import { ENTITIES, wordsForField, wordsForValue } from './record-words';

/** Columns that nobody reads: keys, counters, and what follows from elsewhere. */
const SILENT: ReadonlySet<string> = new Set([
  'labId',
  'id',
  'version',
  'createdAt',
  'patientId',
  'procedureId',
  'procedurePerformedOn',
  'importBatchId',
  'importReferenceHash',
  'hospitalNumberHash',
  'hospitalNumberKeyId',
]);

/** A whole record as it was, part by part: single entries as lists of values, many of a kind as a table. */
export function EarlierRecord({ rows }: { rows: readonly RecordRow[] }) {
  return Object.entries(ENTITIES).map(([entity, title]) => {
    const own = rows.filter((row) => row.entity === entity);
    if (own.length === 0) return null;
    return (
      <section key={entity}>
        <h3 id={`earlier-${entity}`}>
          {title}
          {own.length > 1 ? `, ${own.length} entries` : ''}
        </h3>
        {own.length === 1 && own[0] ? <OneRow entry={own[0]} /> : <ManyRows entity={entity} rows={own} />}
      </section>
    );
  });
}

const fieldsOf = (rows: readonly RecordRow[]): string[] => {
  const names = new Set(
    rows.flatMap(({ entity, row }) => Object.keys(row).filter((name) => isTold(entity, name, row[name]))),
  );
  return [...names];
};
const isTold = (entity: string, name: string, value: unknown): boolean =>
  !SILENT.has(name) && wordsForValue(entity, name, value) !== '';

function OneRow({ entry }: { entry: RecordRow }) {
  const { entity, row } = entry;
  return (
    <DefinitionList
      items={fieldsOf([entry]).map((name) => ({
        term: wordsForField(name),
        detail: wordsForValue(entity, name, row[name]),
      }))}
    />
  );
}

function ManyRows({ entity, rows }: { entity: string; rows: readonly RecordRow[] }) {
  const fields = fieldsOf(rows);
  return (
    <ScrollBox labelledBy={`earlier-${entity}`}>
      <table className={styles.table}>
        <thead>
          <tr>
            {fields.map((name) => (
              <th key={name} scope="col">
                {wordsForField(name)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ entityId, row }) => (
            <tr key={entityId}>
              {fields.map((name) => (
                <td key={name}>{wordsForValue(entity, name, row[name])}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}
