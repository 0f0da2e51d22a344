'use client';

import { useRouter } from 'next/navigation';
import { useRef, useState } from 'react';
import { announce } from '@/components/shell/announcement-store';
import { Button } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { newIdempotencyKey } from './idempotency-key';
import { useReady } from './use-ready';

interface ActionButtonProps<Values> {
  readonly label: string;
  readonly values: Values;
  readonly action: (input: WriteInput<Values>) => Promise<WriteResult>;
}

const UNREACHED: WriteResult = {
  kind: 'failed',
  message: 'The server did not answer. Press again: it is not done twice.',
  reference: 'no answer',
};

/** One press that changes something, with its answer beside it. For what needs no more than the press. */
export function ActionButton<Values>({ label, values, action }: ActionButtonProps<Values>) {
  const router = useRouter();
  const ready = useReady();
  const key = useRef<string>(undefined);
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState('');
  const press = async () => {
    setBusy(true);
    setTrouble('');
    key.current ??= newIdempotencyKey();
    const result = await action({ idempotencyKey: key.current, values }).catch(() => UNREACHED);
    setBusy(false);
    if (result.kind !== 'saved') return setTrouble(wordsOf(result));
    key.current = undefined;
    announce(result.message);
    router.refresh();
  };
  return (
    <>
      <Button weight="primary" busy={busy} disabled={!ready} onClick={press}>
        {busy ? 'Saving' : label}
      </Button>
      {trouble === '' ? null : (
        <Notice kind="harm" title="Not done" live="alert">
          <p>{trouble}</p>
        </Notice>
      )}
    </>
  );
}

function wordsOf(result: Exclude<WriteResult, { kind: 'saved' }>): string {
  switch (result.kind) {
    case 'invalid':
      return result.findings.map(({ message }) => message).join(' ');
    case 'conflict':
      return 'It was changed by somebody else meanwhile. Reload the page, look at it, and press again.';
    case 'unauthenticated':
      return 'Your session has ended. Sign in again in another tab, then press again.';
    case 'forbidden':
      return result.message;
    case 'failed':
      return `${result.message} Reference: ${result.reference}.`;
  }
}
