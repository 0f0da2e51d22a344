'use client';

import { type FormEvent, useRef, useState } from 'react';
import { PlainTextField } from '@/components/forms/plain-field';
import { SIGN_IN_WORDS, trySignIn } from '@/components/forms/sign-in-again';
import { useReady } from '@/components/forms/use-ready';
import { Button } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import { landingPage } from './landing-page';
import styles from './sign-in-form.module.css';

/** Name and password. What was wrong is never said more exactly than "these two do not belong together". */
export function SignInForm({ demo }: { demo: boolean }) {
  const ready = useReady();
  const form = useRef<HTMLFormElement>(null);
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState('');
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (busy) return;
    const typed = new FormData(event.currentTarget);
    const [signInName, password] = [
      String(typed.get('signInName') ?? ''),
      String(typed.get('password') ?? ''),
    ];
    setError('');
    if (signInName.trim() === '' || password === '') {
      setError('Give both the sign-in name and the password.');
      return;
    }
    setBusy(true);
    const answer = await trySignIn(signInName, password);
    if (answer === 'signed-in') {
      // A whole new page: nothing of an earlier person stays in the browser's memory.
      window.location.assign(landingPage(window.location));
      return;
    }
    setBusy(false);
    setError(SIGN_IN_WORDS[answer]);
    form.current?.querySelector<HTMLInputElement>('input[name="password"]')?.focus();
  };
  return (
    <form ref={form} method="post" noValidate onSubmit={submit} className={styles.form} aria-label="Sign in">
      <div role="alert">
        {error ? (
          <Notice kind="harm" title="Not signed in">
            {error}
          </Notice>
        ) : null}
      </div>
      <PlainTextField name="signInName" label="Sign-in name" autoComplete="username" maxLength={80} />
      <PlainTextField
        name="password"
        label="Password"
        type="password"
        autoComplete="current-password"
        maxLength={256}
      />
      <Button type="submit" weight="primary" busy={busy} disabled={!ready}>
        {busy ? 'Signing in' : 'Sign in'}
      </Button>
      {demo ? (
        <div className={styles.demo}>
          <Notice kind="plain" title="Demo lab, invented data">
            <p>
              Sign-in names and passwords for each role stand in the terminal in which the lab was started.
            </p>
          </Notice>
        </div>
      ) : null}
      <noscript>
        <p>This page needs JavaScript to sign you in.</p>
      </noscript>
    </form>
  );
}
