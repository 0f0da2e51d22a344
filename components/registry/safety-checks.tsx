import { CountLink } from '@/components/ui/count-link';
import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import type { SafetyCheck, SafetyClock } from '@/lib/registry/safety-clock';
import styles from './safety-checks.module.css';

const CHECK_MARKS: Record<SafetyCheck['state'], StateMarkKind> = {
  done: 'done',
  'made-good': 'done',
  upcoming: 'upcoming',
  'in-window': 'due',
  overdue: 'overdue',
  'not-possible': 'missed',
};
const CLOCK_MARKS: Record<SafetyClock['state'], StateMarkKind> = {
  complete: 'done',
  'closed-by-death': 'done',
  running: 'upcoming',
  incomplete: 'unfinished',
  ended: 'missed',
};
const CLOCK_WORDS: Record<SafetyClock['state'], string> = {
  complete: 'Safety-complete',
  'closed-by-death': 'Closed by death',
  running: 'Not safety-complete yet',
  incomplete: 'Not safety-complete',
  ended: 'Not safety-complete',
};

interface SafetyChecksProps {
  readonly caseId: string;
  readonly safety: SafetyClock;
  readonly mayEnter: boolean;
}

/** How far harm has been asked for: the state of the case, then each check with its mark and words. */
export function SafetyChecks({ caseId, safety, mayEnter }: SafetyChecksProps) {
  return (
    <>
      <p>
        <StateMark kind={CLOCK_MARKS[safety.state]}>{CLOCK_WORDS[safety.state]}</StateMark>
      </p>
      <ul className={styles.checks} aria-label="Safety checks">
        {safety.checks.map((check) => (
          <li key={check.day}>
            <StateMark kind={CHECK_MARKS[check.state]}>Day {check.day}</StateMark>{' '}
            <span className={styles.words}>
              {wordsOf(check)}
              {mayEnter && (check.state === 'in-window' || check.state === 'overdue') ? (
                <>
                  {'; '}
                  <CountLink href={`/cases/${caseId}/visits/new?slot=${check.slot}`}>
                    enter<span className="visually-hidden"> the check of day {check.day}</span>
                  </CountLink>
                </>
              ) : null}
            </span>
          </li>
        ))}
      </ul>
      <p>{safety.sentence}</p>
    </>
  );
}

function wordsOf({ state, dueOn, askedOn }: SafetyCheck): string {
  switch (state) {
    case 'done':
      return `asked on ${askedOn}`;
    case 'made-good':
      return `missed; made good on ${askedOn}`;
    case 'upcoming':
      return `due on ${dueOn}`;
    case 'in-window':
      return `due on ${dueOn}, in its window`;
    case 'overdue':
      return `was due on ${dueOn}`;
    case 'not-possible':
      return 'nobody asked';
  }
}
