'use client';

import { useEffect, useRef } from 'react';
import styles from './findings-summary.module.css';
import type { PlacedFinding } from './form-findings';

interface FindingsSummaryProps {
  readonly findings: readonly PlacedFinding[];
  /** Paths that have been mended since: said, not taken away under the reader's eye. */
  readonly mended?: ReadonlySet<string>;
  readonly idOf: (field: string) => string;
  readonly onGo: (field: string) => void;
  /** Grows with each try to save: the focus comes here each time. */
  readonly attempt: number;
}

function titleOf(refused: number, total: number): string {
  if (refused === 0) {
    return total === 1
      ? 'One value is unusual. Check it, then save again.'
      : `${total} values are unusual. Check them, then save again.`;
  }
  return refused === 1
    ? 'Not saved: one thing has to be mended.'
    : `Not saved: ${refused} things have to be mended.`;
}

/** All findings at once, each a link to its field. The focus moves here, which also reads it aloud once. */
export function FindingsSummary({ findings, mended, idOf, onGo, attempt }: FindingsSummaryProps) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    if (attempt > 0) box.current?.focus();
  }, [attempt]);
  const refused = findings.filter((finding) => finding.kind === 'refusal').length;
  const title = titleOf(refused, findings.length);
  return (
    <section
      ref={box}
      tabIndex={-1}
      className={`${styles.summary} ${refused > 0 ? styles.refused : styles.unusual}`}
      aria-label={title}
    >
      <h2>{title}</h2>
      <ol>
        {findings.map((finding) => (
          <li key={`${finding.field} ${finding.message}`}>
            {finding.group ? `${finding.group}: ` : ''}
            {finding.field === '' ? (
              finding.message
            ) : (
              <a
                href={`#${idOf(finding.field)}`}
                onClick={(event) => {
                  event.preventDefault();
                  onGo(finding.field);
                }}
              >
                {finding.message}
              </a>
            )}
            {finding.kind === 'warning' && refused > 0 ? ' (unusual, may stay)' : ''}
            {mended?.has(finding.field) ? <strong> Mended.</strong> : null}
          </li>
        ))}
      </ol>
    </section>
  );
}
