'use client';

import { useRouter } from 'next/navigation';
import { type ChangeEvent, useEffect, useId, useRef, useState } from 'react';
import { newIdempotencyKey } from '@/components/forms/idempotency-key';
import { LeaveGuard } from '@/components/forms/leave-guard';
import { SignedOutPanel } from '@/components/forms/signed-out-panel';
import { useReady } from '@/components/forms/use-ready';
import { announce } from '@/components/shell/announcement-store';
import { Button } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import type { Finding } from '@/lib/registry/findings';
import type { WriteResult } from '@/lib/registry/write-result';
import type { CheckAnswer } from './check-answer';
import { CheckReport } from './check-report';
import { FileFields } from './file-fields';
import styles from './import-form.module.css';
import { type ChosenFile, readChosenFile } from './read-file';

interface ImportFormProps {
  readonly exampleMapping: string;
  readonly check: (input: unknown) => Promise<CheckAnswer>;
  readonly publish: (input: unknown) => Promise<WriteResult>;
}

type Checked = Extract<CheckAnswer, { kind: 'checked' }>;
type Errand = 'check' | 'publish';

const UNSENT =
  'The server did not answer. Nothing was written by this try; check the connection and try again.';

/** Choose a file, see what it would write, then write it. What was chosen and typed stays on every answer but "written". */
export function ImportForm({ exampleMapping, check, publish }: ImportFormProps) {
  const router = useRouter();
  const ready = useReady();
  const [file, setFile] = useState<ChosenFile>();
  const [mapping, setMapping] = useState(exampleMapping);
  const [checked, setChecked] = useState<Checked>();
  const [acceptRefused, setAcceptRefused] = useState(false);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const [working, setWorking] = useState<Errand>();
  const [signedOut, setSignedOut] = useState<Errand>();
  const [requestKey, setRequestKey] = useState('');
  /** Rises with each file written: the file fields begin anew, else the browser would not notice the same file again. */
  const [round, setRound] = useState(0);
  const answerId = useId();
  const answer = useRef<HTMLElement>(null);
  const attempt = useRef(0);

  useEffect(() => {
    if (attempt.current > 0 && (checked || findings.length > 0)) answer.current?.focus();
  }, [checked, findings]);

  const forget = () => {
    setChecked(undefined);
    setFindings([]);
    setAcceptRefused(false);
  };
  const refuse = (field: string, message: string) => setFindings([{ field, message, kind: 'refusal' }]);

  const chooseFile = async (event: ChangeEvent<HTMLInputElement>) => {
    const [chosen] = event.currentTarget.files ?? [];
    forget();
    setFile(undefined);
    if (!chosen) return;
    const read = await readChosenFile(chosen);
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
    const told = await check({ ...sent, mappingText: mapping });
    if (told.kind === 'unauthenticated') setSignedOut('check');
    else if (told.kind === 'refused') setFindings(told.findings);
    else {
      setChecked(told);
      setAcceptRefused(false);
      setRequestKey(newIdempotencyKey());
    }
  };

  const runPublish = async ({ name: _local, ...sent }: ChosenFile) => {
    const values = { ...sent, mappingText: mapping, acceptRefused };
    const told = await publish({ idempotencyKey: requestKey, values });
    if (told.kind === 'saved') {
      announce(told.message);
      forget();
      setFile(undefined);
      setRound(round + 1);
      router.refresh();
    } else if (told.kind === 'unauthenticated') setSignedOut('publish');
    else if (told.kind === 'invalid') setFindings(told.findings);
    else if (told.kind === 'failed') refuse('', `${told.message} Reference: ${told.reference}.`);
    else
      refuse(
        '',
        told.kind === 'forbidden' ? told.message : 'Somebody else changed this meanwhile. Check again.',
      );
  };

  return (
    <>
      <LeaveGuard active={mapping !== exampleMapping && !signedOut} />
      {signedOut ? <SignedOutPanel onSignedIn={() => void run(signedOut)} /> : null}
      <form
        className={styles.form}
        noValidate
        aria-describedby={answerId}
        onSubmit={(event) => {
          event.preventDefault();
          void run('check');
        }}
      >
        <FileFields
          key={round}
          file={file}
          mapping={mapping}
          findings={findings}
          onFile={(event) => void chooseFile(event)}
          onMapping={(text) => {
            forget();
            setMapping(text);
          }}
        />
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
          <Notice kind="harm" title="Nothing was written">
            <ul>
              {findings.map(({ field, message }) => (
                <li key={`${field} ${message}`}>{message}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {checked ? (
          <CheckReport
            checked={checked}
            acceptRefused={acceptRefused}
            onAccept={setAcceptRefused}
            busy={working !== undefined}
            onPublish={() => void run('publish')}
          />
        ) : null}
      </section>
    </>
  );
}
