'use client';

import { useRouter } from 'next/navigation';
import { type ChangeEvent, useEffect, useId, useRef, useState } from 'react';
import { Field } from '@/components/forms/field';
import { newIdempotencyKey } from '@/components/forms/idempotency-key';
import { SignedOutPanel } from '@/components/forms/signed-out-panel';
import { useReady } from '@/components/forms/use-ready';
import { announce } from '@/components/shell/announcement-store';
import { Button } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import type { Finding } from '@/lib/registry/findings';
import type { WriteResult } from '@/lib/registry/write-result';
import styles from '../import-form.module.css';
import { type ChosenFile, readChosenFile } from '../read-file';
import { MAX_UPLOAD_BYTES } from '../upload-limits';
import type { DeviceCheck } from './check-answer';
import { type Decisions, DeviceReport } from './device-report';
import { useProgress } from './use-progress';

interface DeviceFormProps {
  readonly check: (input: unknown) => Promise<DeviceCheck>;
  readonly publish: (input: unknown) => Promise<WriteResult>;
}

type Errand = 'check' | 'publish';
const UNDECIDED: Decisions = { acceptRefused: false, onDifference: '' };
const UNSENT =
  'The server did not answer. What was written before it stopped is stored; check the file again to see what is left.';

/** Choose a file, see what it would write, decide what needs a decision, then write it. */
export function DeviceForm({ check, publish }: DeviceFormProps) {
  const router = useRouter();
  const ready = useReady();
  const [file, setFile] = useState<ChosenFile>();
  const [checked, setChecked] = useState<Extract<DeviceCheck, { kind: 'checked' }>>();
  const [decisions, setDecisions] = useState(UNDECIDED);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const [working, setWorking] = useState<Errand>();
  const [signedOut, setSignedOut] = useState<Errand>();
  /** Rises with each file written: the field begins anew, else the browser would not notice the same file again. */
  const [round, setRound] = useState(0);
  const answerId = useId();
  const answer = useRef<HTMLElement>(null);
  const attempt = useRef(0);
  const progress = useProgress(file?.sha256 ?? '', working === 'publish');

  useEffect(() => {
    if (attempt.current > 0 && (checked || findings.length > 0)) answer.current?.focus();
  }, [checked, findings]);

  const refuse = (field: string, message: string) => setFindings([{ field, message, kind: 'refusal' }]);
  const forget = () => {
    setChecked(undefined);
    setFindings([]);
    setDecisions(UNDECIDED);
  };

  const chooseFile = async (event: ChangeEvent<HTMLInputElement>) => {
    const [chosen] = event.currentTarget.files ?? [];
    forget();
    setFile(undefined);
    if (!chosen) return;
    const read = await readChosenFile(chosen, 'import-device-days');
    attempt.current += 1;
    if (read.kind === 'read') setFile(read.file);
    else refuse('file', read.message);
  };

  const run = async (errand: Errand) => {
    if (working) return;
    if (!file) {
      attempt.current += 1;
      refuse('file', 'Choose the CSV first.');
      return;
    }
    setWorking(errand);
    setSignedOut(undefined);
    setFindings([]);
    try {
      if (errand === 'check') await runCheck(file);
      else await runPublish(file);
    } catch {
      // The call itself failed: no answer came that could be shown.
      refuse('', UNSENT);
    } finally {
      attempt.current += 1;
      setWorking(undefined);
    }
  };

  const runCheck = async ({ name: _local, ...sent }: ChosenFile) => {
    const told = await check(sent);
    if (told.kind === 'unauthenticated') setSignedOut('check');
    else if (told.kind === 'refused') setFindings(told.findings);
    else {
      setDecisions(UNDECIDED);
      setChecked(told);
    }
  };

  const runPublish = async ({ name: _local, ...sent }: ChosenFile) => {
    const told = await publish({ idempotencyKey: newIdempotencyKey(), values: { ...sent, ...decisions } });
    if (told.kind === 'saved') {
      announce(told.message);
      forget();
      setFile(undefined);
      setRound(round + 1);
      router.refresh();
    } else if (told.kind === 'unauthenticated') setSignedOut('publish');
    else if (told.kind === 'invalid') setFindings(told.findings);
    else if (told.kind === 'failed') refuse('', `${told.message} Reference: ${told.reference}.`);
    else refuse('', told.kind === 'forbidden' ? told.message : 'Somebody else changed this. Check again.');
  };

  const fileError = findings.filter(({ field }) => field === 'file').map(({ message }) => message);
  return (
    <>
      {signedOut ? <SignedOutPanel onSignedIn={() => void run(signedOut)} /> : null}
      <form
        key={round}
        className={styles.form}
        noValidate
        aria-describedby={answerId}
        onSubmit={(event) => {
          event.preventDefault();
          void run('check');
        }}
      >
        <Field
          id="device-file"
          name="file"
          label="Daily burden, CSV"
          required
          error={fileError.length > 0 ? fileError.join(' ') : undefined}
          hint={
            file
              ? `Read: ${file.byteCount.toLocaleString('en-GB')} bytes.`
              : `One row per patient and day, up to ${MAX_UPLOAD_BYTES / 1_000_000} MB.`
          }
        >
          {(control) => (
            <input
              {...control}
              type="file"
              accept=".csv,.txt,text/csv"
              className={styles.file}
              onChange={(event) => void chooseFile(event)}
            />
          )}
        </Field>
        <Button
          type="submit"
          weight={checked ? 'plain' : 'primary'}
          disabled={!ready}
          busy={working !== undefined}
        >
          {working === 'check' ? 'Checking' : 'Check the file'}
        </Button>
      </form>
      <section
        ref={answer}
        id={answerId}
        tabIndex={-1}
        className={styles.answer}
        aria-label="Answer to the check"
      >
        {findings.length > 0 ? (
          <Notice kind="harm" title="Not written">
            <ul>
              {findings.map(({ field, message }) => (
                <li key={`${field} ${message}`}>{message}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {checked ? (
          <DeviceReport
            checked={checked}
            decisions={decisions}
            onDecide={setDecisions}
            busy={working === 'publish'}
            progress={progress}
            onPublish={() => void run('publish')}
          />
        ) : null}
      </section>
    </>
  );
}
