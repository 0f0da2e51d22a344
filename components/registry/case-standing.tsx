import Link from 'next/link';
import { ActionButton } from '@/components/forms/action-button';
import { StateMark } from '@/components/ui/state-mark';
import { CASE_STATES, type CaseCompleteness, type MissingItem, nextStateOf } from '@/lib/registry/case-state';
import { labelOf } from '@/lib/registry/vocabulary';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import styles from './case-standing.module.css';

type Move = (input: WriteInput<{ version: number }>) => Promise<WriteResult>;

interface CaseStandingProps {
  readonly caseId: string;
  readonly standing: CaseCompleteness & {
    readonly version: number;
    readonly signed: { readonly by: string; readonly at: string } | null;
    readonly amendedAt: string | null;
  };
  /** Null for those who may not. */
  readonly onEnter: Move | null;
  readonly onSign: Move | null;
}

/** How far the case has come, and what stands before the next state, each a link to its field. */
export function CaseStanding({ caseId, standing, onEnter, onSign }: CaseStandingProps) {
  const { state, version, signed, amendedAt } = standing;
  const step = nextStateOf(standing);
  return (
    <>
      <p>
        <StateMark kind={state === 'draft' ? 'unfinished' : 'done'}>{labelOf(CASE_STATES, state)}</StateMark>
        {signed ? ` by ${signed.by} on ${signed.at.slice(0, 10)}` : null}
        {amendedAt ? `, amended on ${amendedAt.slice(0, 10)}` : null}
      </p>
      {step === null ? <p>Changes of a signed case are amendments: its history keeps old and new.</p> : null}
      {step !== null && step.missing.length > 0 ? (
        <>
          <p>{step.next === 'entered' ? 'Before it counts as entered:' : 'Before it can be signed:'}</p>
          <ul className={styles.missing}>
            {step.missing.map((item) => (
              <li key={`${item.part} ${item.field}`}>
                {onEnter ? <Link href={hrefOf(caseId, item)}>{item.what}</Link> : item.what}
              </li>
            ))}
          </ul>
        </>
      ) : null}
      {step?.next === 'entered' && step.missing.length === 0 && onEnter ? (
        <ActionButton label="Mark as entered" values={{ version }} action={onEnter} />
      ) : null}
      {step?.next === 'signed' && step.missing.length === 0 && onSign ? (
        <>
          <p>By signing you answer for baseline, procedure and lesion set as they stand.</p>
          <ActionButton label="Sign the case" values={{ version }} action={onSign} />
        </>
      ) : null}
    </>
  );
}

function hrefOf(caseId: string, { part, field }: MissingItem): string {
  const form = part === 'procedure' ? `/cases/${caseId}/edit` : `/cases/${caseId}/lesions/edit`;
  return field === '' ? form : `${form}#field=${field}`;
}
