import { CountLink } from '@/components/ui/count-link';
import { MarginNote } from '@/components/ui/spread';
import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import { inWords } from '@/lib/registry/in-words';
import type { LesionAccount } from '@/lib/registry/lesion-account';
import { DERIVED_STRATEGIES, labelOf } from '@/lib/registry/vocabulary';
import { markOfStructure } from './lesion-marks';

interface LesionAccountNotesProps {
  readonly account: LesionAccount;
  /** Where a disagreement is settled; left out where it cannot be. */
  readonly settleHref?: string | undefined;
}

const ENDPOINT = {
  met: { mark: 'abated', words: 'Met' },
  'not-met': { mark: 'open', words: 'Not met' },
  'not-recorded': { mark: 'not-recorded', words: 'Not recorded' },
} as const satisfies Record<LesionAccount['endpoint']['verdict'], { mark: StateMarkKind; words: string }>;

/** More than these stand behind a fold. */
const MOST_FLAGS = 8;

/** What follows from the set, in words: strategy, completeness, endpoint, reconnections, flags. */
export function LesionAccountNotes({ account, settleHref }: LesionAccountNotesProps) {
  const { derived, agreement, completeness, endpoint, reconnections, flags, totals } = account;
  const taken = completeness.filter(({ verdict }) => verdict !== 'not-done');
  const left = completeness
    .filter(({ verdict }) => verdict === 'not-done')
    .map(({ structure }) => structure.label.toLowerCase());
  return (
    <>
      <MarginNote title="Derived from the lesions">
        <p>
          <b>{labelOf(DERIVED_STRATEGIES, derived.strategy)}.</b> {derived.reason}
        </p>
        <p>
          {agreement.kind === 'disagree' ? (
            <StateMark kind="unfinished">{agreement.words}</StateMark>
          ) : (
            agreement.words
          )}{' '}
          {agreement.kind === 'disagree' && settleHref ? (
            <CountLink href={settleHref}>Settle it</CountLink>
          ) : null}
        </p>
      </MarginNote>
      <MarginNote title="Complete?">
        {completeness.length === 0 ? <p>No ring or line is recorded yet.</p> : null}
        {taken.map((one) => (
          <p key={one.structure.structure}>
            <StateMark kind={markOfStructure(one)}>{one.words}</StateMark>
          </p>
        ))}
        {left.length > 0 ? (
          <p>
            <StateMark kind="not-done">Not done: {inWords(left)}.</StateMark>
          </p>
        ) : null}
      </MarginNote>
      <MarginNote title="Acute endpoint">
        <p>
          <StateMark kind={ENDPOINT[endpoint.verdict].mark}>{ENDPOINT[endpoint.verdict].words}</StateMark>.{' '}
          {endpoint.reasons.join(' ')}
        </p>
      </MarginNote>
      {reconnections.kind === 'first' ? null : (
        <MarginNote title="What had reconnected">
          {reconnections.kind === 'unknown' ? <p>{reconnections.words}</p> : null}
          {reconnections.reports.map(({ earlier, words }) => (
            <p key={earlier.ordinal}>
              Since procedure {earlier.ordinal} on {earlier.performedOn}. {words}
            </p>
          ))}
        </MarginNote>
      )}
      {totals === null ? null : (
        <MarginNote title="Single applications">
          <p>{totals}</p>
        </MarginNote>
      )}
      <MarginNote title="To look at again">
        {flags.length === 0 ? <p>Nothing is flagged.</p> : null}
        {flags.slice(0, MOST_FLAGS).map((flag) => (
          <p key={flag}>{flag}</p>
        ))}
        {flags.length > MOST_FLAGS ? (
          <details>
            <summary>{flags.length - MOST_FLAGS} more</summary>
            {flags.slice(MOST_FLAGS).map((flag) => (
              <p key={flag}>{flag}</p>
            ))}
          </details>
        ) : null}
      </MarginNote>
    </>
  );
}
