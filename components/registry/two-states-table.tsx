import { LedgerTable } from '@/components/tables/ledger-table';
import { type ComplicationFacts, standingOf } from '@/lib/registry/complication-standing';
import { VERDICTS } from '@/lib/registry/complication-vocabulary';
import { COMPLICATION_TYPES } from '@/lib/registry/complications';
import { labelOf } from '@/lib/registry/vocabulary';
import type { ComplicationLine } from './complication-table';
import { factsWords, harmWords, onsetWords, severityWords } from './complication-words';

interface TwoStatesLine extends Omit<ComplicationLine, 'treatment' | 'outcome' | 'resolvedOn'> {
  /** UTC instant. */
  readonly adjudicatedAt: string | null;
}

interface Row {
  readonly what: string;
  readonly reported: string;
  readonly adjudicated: string;
}

/** What was reported and what the second person found, side by side; neither ever replaces the other. */
export function TwoStatesTable({ complication }: { complication: TwoStatesLine }) {
  const { reported, adjudication, performedOn, reportedBy, adjudicatedBy, adjudicatedAt } = complication;
  const found = adjudication === null || adjudication.verdict === 'refuted' ? null : adjudication.facts;
  const absent = adjudication === null ? 'not adjudicated yet' : 'none';
  const row = (what: string, wordsOf: (facts: ComplicationFacts) => string): Row => ({
    what,
    reported: wordsOf(reported),
    adjudicated: found === null ? absent : wordsOf(found),
  });
  const judge = `${adjudicatedBy ?? 'a person who is gone'}, ${adjudicatedAt?.slice(0, 10) ?? ''}`;
  const rows: Row[] = [
    row('Complication', ({ type }) => labelOf(COMPLICATION_TYPES, type)),
    row('Onset', ({ onsetOn }) => onsetWords(performedOn, onsetOn)),
    row('What it led to', ({ harms }) => harmWords(harms)),
    row('Severity', severityWords),
    {
      what: 'By',
      reported: reportedBy ?? 'a program',
      adjudicated:
        adjudication === null
          ? absent
          : `${labelOf(VERDICTS, adjudication.verdict).toLowerCase()} by ${judge}`,
    },
  ];
  return (
    <LedgerTable
      caption="The two states of this complication"
      captionHidden
      columns={[
        {
          key: 'what',
          head: <span className="visually-hidden">What</span>,
          rowHead: true,
          cell: ({ what }) => what,
        },
        { key: 'reported', head: 'As reported', cell: (line) => line.reported },
        { key: 'adjudicated', head: 'As adjudicated', cell: (line) => line.adjudicated },
      ]}
      rows={rows}
      rowKey={({ what }) => what}
    />
  );
}

/** What counts in rates, in one sentence. */
export function standingSentence(complication: TwoStatesLine): string {
  const standing = standingOf(complication);
  switch (standing.kind) {
    case 'voided':
      return 'It counts nowhere: the entry is void.';
    case 'refuted':
      return 'It counts nowhere: the second person found no complication of this procedure.';
    case 'counts': {
      const by = standing.by === 'adjudication' ? 'as adjudicated' : 'as reported, until it is adjudicated';
      return `It counts ${by}: ${factsWords(standing.facts)}, ${onsetWords(complication.performedOn, standing.facts.onsetOn)}.`;
    }
  }
}
