'use client';

import { type FormEvent, useEffect, useId, useRef, useState } from 'react';
import { Button } from '@/components/ui/button';
import { PlainTextField } from './plain-field';
import { SIGN_IN_WORDS, trySignIn } from './sign-in-again';
import styles from './signed-out-panel.module.css';

/** The session ended while somebody typed: sign in right here, and what was typed is saved. Stands outside the form. */
export function SignedOutPanel({ onSignedIn }: { onSignedIn: () => void }) {
  const box = useRef<HTMLElement>(null);
  const id = useId();
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  useEffect(() => box.current?.focus(), []);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (busy) return;
    const typed = new FormData(event.currentTarget);
    setBusy(true);
    const answer = await trySignIn(
      String(typed.get('signInName') ?? ''),
      String(typed.get('password') ?? ''),
    );
    setBusy(false);
    if (answer === 'signed-in') onSignedIn();
    else setError(SIGN_IN_WORDS[answer]);
  };
  return (
    <section ref={box} tabIndex={-1} className={styles.panel} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>Not saved yet: your session has ended</h2>
      <p>Everything you typed is still here. Sign in again, and it is saved.</p>
      <form onSubmit={submit} className={styles.form} noValidate>
        <PlainTextField id={`${id}-name`} name="signInName" label="Sign-in name" autoComplete="username" />
        <PlainTextField
          id={`${id}-password`}
          name="password"
          label="Password"
          type="password"
          autoComplete="current-password"
        />
        <Button type="submit" weight="primary" busy={busy}>
          {busy ? 'Signing in' : 'Sign in and save'}
        </Button>
      </form>
      <p role="alert" className={styles.error}>
        {error}
      </p>
    </section>
  );
}
