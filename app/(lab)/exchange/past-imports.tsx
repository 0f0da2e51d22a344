import { LedgerTable } from '@/components/tables/ledger-table';
import { EmptyState } from '@/components/ui/empty-state';
import type { PastImport } from '@/lib/records/imports/read';

const figure = (count: number): string => count.toLocaleString('en-GB');

const stateOf = (stoppedAt: PastImport['stoppedAt']): string =>
  stoppedAt
    ? `${figure(stoppedAt.done)} of ${figure(stoppedAt.planned)} patients; if it stands still, give the same file again`
    : 'whole';

/** Every file that was published, latest first. */
export function PastImports({ imports }: { imports: readonly PastImport[] }) {
  if (imports.length === 0) {
    return (
      <EmptyState title="Nothing was imported yet">
        <p>Each file that is published stands here with its counts and the fingerprint of its bytes.</p>
      </EmptyState>
    );
  }
  return (
    <LedgerTable
      caption="Published files, latest first, at most 50; times in UTC"
      captionHidden
      rows={imports}
      rowKey={({ id }) => id}
      columns={[
        { key: 'source', head: 'Source', rowHead: true, cell: ({ source }) => source },
        { key: 'at', head: 'Published (UTC)', cell: ({ at }) => `${at.slice(0, 10)} ${at.slice(11, 16)}` },
        { key: 'rows', head: 'Rows', kind: 'number', cell: ({ rows }) => figure(rows) },
        { key: 'published', head: 'Written', kind: 'number', cell: ({ published }) => figure(published) },
        { key: 'state', head: 'State', cell: ({ stoppedAt }) => stateOf(stoppedAt) },
        { key: 'refused', head: 'Refused', kind: 'number', cell: ({ refused }) => figure(refused) },
        { key: 'fingerprint', head: 'SHA-256 begins', cell: ({ fingerprint }) => fingerprint },
      ]}
    />
  );
}
