import { Notice } from '@/components/ui/notice';
import type { Finding } from '@/lib/registry/findings';

/** What of the address cannot be answered and why, and what can but is seldom meant. What was chosen stays in the forms. */
export function FindingsNotice({ findings }: { findings: readonly Finding[] }) {
  const refusals = findings.filter(({ kind }) => kind === 'refusal');
  const warnings = findings.filter(({ kind }) => kind === 'warning');
  return (
    <>
      {refusals.length > 0 ? (
        <Notice kind="harm" title="This cannot be computed">
          <Messages findings={refusals} />
          <p>What you chose is kept: mend it below, or go back to the stored rules.</p>
        </Notice>
      ) : null}
      {warnings.length > 0 ? (
        <Notice kind="caution" title="Seldom meant">
          <Messages findings={warnings} />
        </Notice>
      ) : null}
    </>
  );
}

function Messages({ findings }: { findings: readonly Finding[] }) {
  return (
    <ul>
      {findings.map(({ field, message }) => (
        <li key={`${field} ${message}`}>{message}</li>
      ))}
    </ul>
  );
}
