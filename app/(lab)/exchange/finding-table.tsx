'use client';

import { LedgerTable } from '@/components/tables/ledger-table';
import type { ImportFinding } from '@/lib/exchange/import-finding';

interface FindingTableProps {
  /** 'Refused rows'. */
  readonly what: string;
  /** Those that are shown; there may be more. */
  readonly findings: readonly ImportFinding[];
  readonly total: number;
}

/** Rows of a file that need somebody: where, what stands there, why, how to mend it. */
export function FindingTable({ what, findings, total }: FindingTableProps) {
  const more =
    total > findings.length ? `, the first ${findings.length} of ${total.toLocaleString('en-GB')}` : '';
  return (
    <LedgerTable
      caption={`${what}${more}. Rows are numbered as a spreadsheet does; what may name a person is never shown.`}
      rows={findings}
      rowKey={({ row, code }) => `${row} ${code}`}
      columns={[
        { key: 'row', head: 'Row', kind: 'number', rowHead: true, cell: ({ row }) => row },
        { key: 'column', head: 'Column', cell: ({ column }) => column ?? 'whole row' },
        { key: 'value', head: 'Value', cell: ({ value }) => value ?? 'not shown' },
        { key: 'reason', head: 'Why', cell: ({ reason }) => reason },
        { key: 'cure', head: 'How to mend it', cell: ({ cure }) => cure },
      ]}
    />
  );
}
