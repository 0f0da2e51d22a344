import type { Metadata } from 'next';
import { LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { PageHead } from '@/components/ui/page-head';
import { loadLab } from './load';

export const metadata: Metadata = { title: 'Lab' };

export default async function Lab() {
  const sections = await loadLab();
  return (
    <>
      <PageHead
        title="What the lab works by"
        lede="Everybody who signs in may read it. Each section says who may change it."
      />
      <LedgerTable
        caption="Sections of the lab"
        captionHidden
        columns={[
          {
            key: 'section',
            head: 'Section',
            rowHead: true,
            cell: ({ href, label }) => <CountLink href={href}>{label}</CountLink>,
          },
          { key: 'what', head: 'What it holds', cell: ({ what }) => what },
        ]}
        rows={sections}
        rowKey={({ href }) => href}
      />
    </>
  );
}
