import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { BASELINE_LABELS, PROCEDURE_LABELS } from '@/lib/registry/forms/field-labels';
import type { ScoreField, ScoreResult } from '@/lib/registry/scores/score';

interface ScoreTableProps {
  readonly scores: readonly ScoreResult[];
  /** Where what is missing can be entered; null for those who may not. */
  readonly editHref: string | null;
}

/** Scores from their components, with what each item gave. A score with something missing has no number, only a range. */
export function ScoreTable({ scores, editHref }: ScoreTableProps) {
  const columns: readonly LedgerColumn<ScoreResult>[] = [
    { key: 'score', head: 'Score', rowHead: true, cell: ({ score }) => score.label },
    { key: 'points', head: 'Points', kind: 'number', cell: pointsOf },
    { key: 'items', head: 'Items that count', cell: itemsOf },
    { key: 'missing', head: 'Missing', cell: (result) => <Missing result={result} editHref={editHref} /> },
    { key: 'source', head: 'Source', cell: sourceOf },
  ];
  return (
    <>
      <LedgerTable
        caption="Scores of this case"
        captionHidden
        columns={columns}
        rows={scores}
        rowKey={({ score }) => score.code}
      />
      <p>
        Scores describe groups of patients. They do not advise on this one, and none of the recurrence scores
        has performed consistently elsewhere.
      </p>
    </>
  );
}

function pointsOf(result: ScoreResult): string {
  return result.kind === 'complete'
    ? `${result.points} of ${result.most}`
    : `${result.least} to ${result.atMost} of ${result.most}`;
}

function itemsOf({ items }: ScoreResult): string {
  const counting = items.filter(({ points }) => points !== null && points > 0);
  return counting.length === 0
    ? 'none'
    : counting.map(({ label, points }) => `${label} (${points})`).join('; ');
}

const WORDS: Readonly<Partial<Record<ScoreField, string>>> = {
  ageYears: PROCEDURE_LABELS.ageYears,
  sex: 'Sex',
  afYears: BASELINE_LABELS.afSinceYear,
  earlyRecurrence: 'Rhythm in the first 90 days',
};

function Missing({ result, editHref }: { result: ScoreResult; editHref: string | null }) {
  if (result.kind === 'complete') return 'nothing';
  const labels: Readonly<Record<string, string>> = BASELINE_LABELS;
  const words = result.missing.map((field) => WORDS[field] ?? labels[field] ?? field).join(', ');
  const isWaiting = result.missing.length === 1 && result.missing[0] === 'earlyRecurrence';
  return editHref === null || isWaiting ? words : <CountLink href={editHref}>{words}</CountLink>;
}

function sourceOf({ score }: ScoreResult): string {
  const memory = score.fromMemory === '' ? '' : ` From memory: ${score.fromMemory}.`;
  const from = score.knownFrom === 'baseline' ? '' : ' Known from the end of blanking.';
  return `${score.predicts}. ${score.source}.${memory}${from}`;
}
