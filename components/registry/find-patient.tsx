'use client';

import { useEffect, useId, useRef, useState, useTransition } from 'react';
import { Field } from '@/components/forms/field';
import fieldStyles from '@/components/forms/field.module.css';
import { Button } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import styles from './find-patient.module.css';

interface FoundLine {
  readonly code: string;
  readonly href: string;
  readonly note: string;
}

export type FindAnswer =
  | { readonly kind: 'found'; readonly lines: readonly FoundLine[] }
  | { readonly kind: 'refused'; readonly message: string };

interface FindPatientProps {
  /** What was typed never enters the address: it may be a hospital number. */
  readonly find: (typed: string) => Promise<FindAnswer>;
}

const UNREACHED: FindAnswer = {
  kind: 'refused',
  message: 'The server did not answer. Try again in a moment.',
};

/** Finds a patient by code, by the beginning of a code, or by hospital number. The key "/" jumps here. */
export function FindPatient({ find }: FindPatientProps) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [answer, setAnswer] = useState<FindAnswer>();
  const [busy, startSearch] = useTransition();
  useEffect(() => {
    const jump = (event: KeyboardEvent) => {
      const target = event.target instanceof HTMLElement ? event.target : null;
      const typing = target?.closest('input, select, textarea, [contenteditable]');
      if (event.key !== '/' || event.ctrlKey || event.metaKey || event.altKey || typing) return;
      event.preventDefault();
      input.current?.focus();
    };
    document.addEventListener('keydown', jump);
    return () => document.removeEventListener('keydown', jump);
  }, []);
  return (
    <search className={styles.find}>
      <form
        method="post"
        onSubmit={(event) => {
          event.preventDefault();
          const typed = input.current?.value ?? '';
          startSearch(async () => setAnswer(await find(typed).catch(() => UNREACHED)));
        }}
      >
        <Field
          id={id}
          name="find"
          label="Find a patient"
          hint="Code, its beginning, or hospital number. Key: /"
        >
          {(control) => (
            <span className={styles.row}>
              <input
                {...control}
                ref={input}
                type="text"
                autoComplete="off"
                spellCheck={false}
                maxLength={60}
                className={fieldStyles.input}
              />
              <Button type="submit" busy={busy}>
                Find
              </Button>
            </span>
          )}
        </Field>
      </form>
      <div role="status">{answer ? <FoundLines answer={answer} /> : null}</div>
    </search>
  );
}

function FoundLines({ answer }: { answer: FindAnswer }) {
  if (answer.kind === 'refused') return <p>{answer.message}</p>;
  if (answer.lines.length === 0) {
    return <p>Nobody found. A code reads P-4KX7-M; a hospital number must be typed whole.</p>;
  }
  return (
    <ul className={styles.lines}>
      {answer.lines.map((line) => (
        <li key={line.href}>
          <CountLink href={line.href}>{line.code}</CountLink> <span className={styles.note}>{line.note}</span>
        </li>
      ))}
    </ul>
  );
}
