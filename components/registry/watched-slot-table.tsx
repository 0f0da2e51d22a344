import { LedgerTable } from '@/components/tables/ledger-table';
import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import { WINDOW_GRADES } from '@/lib/registry/evidence-grade';
import { EVIDENCE_GRADES, labelOf } from '@/lib/registry/vocabulary';
import type { WatchedSlot, WatchVerdict } from '@/lib/registry/watched-slots';

const VERDICTS: Record<WatchVerdict, { readonly mark: StateMarkKind; readonly words: string }> = {
  enough: { mark: 'done', words: 'as needed' },
  short: { mark: 'missed', words: 'less than needed' },
  open: { mark: 'due', words: 'not yet as needed' },
  ended: { mark: 'unfinished', words: 'cut short' },
};

const NEEDED = [...WINDOW_GRADES, ...EVIDENCE_GRADES.filter(({ code }) => code === 'contact')];

/** How well the patient was watched within the window of each planned follow-up that has opened. */
export function WatchedSlotTable({ slots }: { slots: readonly WatchedSlot[] }) {
  return (
    <LedgerTable
      caption="How well the window of each planned follow-up was watched"
      captionHidden
      rows={slots}
      rowKey={({ code }) => code}
      columns={[
        { key: 'slot', head: 'Follow-up', rowHead: true, cell: ({ label }) => label },
        {
          key: 'window',
          head: 'Window',
          kind: 'day',
          cell: ({ opensOn, closesOn }) => `${opensOn} to ${closesOn}`,
        },
        { key: 'grade', head: 'Best evidence', cell: ({ grade }) => labelOf(WINDOW_GRADES, grade) },
        { key: 'needed', head: 'Needed', cell: ({ needed }) => labelOf(NEEDED, needed) },
        {
          key: 'verdict',
          head: 'Watched',
          cell: ({ verdict }) => (
            <StateMark kind={VERDICTS[verdict].mark}>{VERDICTS[verdict].words}</StateMark>
          ),
        },
      ]}
    />
  );
}
