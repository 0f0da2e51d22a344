'use client';

import { useEffect, useRef } from 'react';
import { KEEP_REASONS } from '@/lib/registry/procedure-vocabulary';
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
  /** Where unusual values may stay only with a reason: the reasons chosen so far, by path. */
  readonly keep: {
    readonly reasons: ReadonlyMap<string, string>;
    readonly onReason: (field: string, reason: string) => void;
  } | null;
}

function titleOf(refused: number, total: number, asksReason: boolean): string {
  if (refused === 0 && asksReason) {
    return total === 1
      ? 'One value is unusual. Mend it, or say why it stays; then save again.'
      : `${total} values are unusual. Mend them, or say why they stay; then save again.`;
  }
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
export function FindingsSummary({ findings, mended, idOf, onGo, attempt, keep }: FindingsSummaryProps) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    if (attempt > 0) box.current?.focus();
  }, [attempt]);
  const refused = findings.filter((finding) => finding.kind === 'refusal').length;
  const title = titleOf(refused, findings.length, keep !== null);
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
                id={keep ? `${idOf(finding.field)}-keep-of` : undefined}
                href={`#${idOf(finding.field)}`}
                onClick={(event) => {
                  event.preventDefault();
                  onGo(finding.field);
                }}
              >
                {finding.message}
              </a>
            )}
            {finding.kind === 'warning' && refused > 0 && !keep ? ' (unusual, may stay)' : ''}
            {finding.kind === 'warning' && keep ? (
              <KeepReason
                id={`${idOf(finding.field)}-keep`}
                reason={keep.reasons.get(finding.field) ?? ''}
                onReason={(reason) => keep.onReason(finding.field, reason)}
              />
            ) : null}
            {mended?.has(finding.field) ? <strong> Mended.</strong> : null}
          </li>
        ))}
      </ol>
    </section>
  );
}

interface KeepReasonProps {
  readonly id: string;
  readonly reason: string;
  readonly onReason: (reason: string) => void;
}

/** Keep it anyway, and why. */
function KeepReason({ id, reason, onReason }: KeepReasonProps) {
  return (
    <p className={styles.keep}>
      <label htmlFor={id}>Keep it anyway</label>
      <select
        id={id}
        value={reason}
        aria-describedby={`${id}-of`}
        onChange={(event) => onReason(event.target.value)}
      >
        <option value="">no, it will be mended</option>
        {KEEP_REASONS.map(({ code, label }) => (
          <option key={code} value={code}>
            {label}
          </option>
        ))}
      </select>
    </p>
  );
}
