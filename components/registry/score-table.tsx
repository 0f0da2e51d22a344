import Link from 'next/link';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
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
    { key: 'missing', head: 'Missing', cell: missingOf },
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
      {editHref !== null && scores.some(({ kind }) => kind === 'incomplete') ? (
        <p>
          <Link href={editHref}>Enter what is missing</Link>
        </p>
      ) : null}
      <details>
        <summary>Where the scores come from</summary>
        <ul>
          {scores.map((result) => (
            <li key={result.score.code}>
              {result.score.label}: {sourceOf(result)}
            </li>
          ))}
        </ul>
      </details>
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

function missingOf(result: ScoreResult): string {
  if (result.kind === 'complete') return 'nothing';
  const labels: Readonly<Record<string, string>> = BASELINE_LABELS;
  return result.missing.map((field) => WORDS[field] ?? labels[field] ?? field).join(', ');
}

function sourceOf({ score }: ScoreResult): string {
  const memory = score.fromMemory === '' ? '' : ` From memory: ${score.fromMemory}.`;
  const from = score.knownFrom === 'baseline' ? '' : ' Known from the end of blanking.';
  return `${score.predicts}. ${score.source}.${memory}${from}`;
}
