'use client';

import { Button, LinkButton } from '@/components/ui/button';
import { DeadEnd } from './dead-end';

/** The digest that Next gives an error of the server; the same stands in the log. */
export function referenceOf(error: unknown): string | undefined {
  const digest = error instanceof Error && 'digest' in error ? error.digest : undefined;
  return typeof digest === 'string' ? digest : undefined;
}

/** Something failed while the page was made. Nothing of the error itself is shown. */
export function ErrorWords({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <DeadEnd
      title="This page could not be made"
      reference={referenceOf(error)}
      actions={
        <>
          <Button weight="primary" onClick={retry}>
            Try again
          </Button>
          <LinkButton href="/today">Go to Today</LinkButton>
        </>
      }
    >
      <p>
        Something failed on the server. What is stored is unharmed. Try again; if it stays, tell the
        administrator of the lab the reference below and what you were doing.
      </p>
    </DeadEnd>
  );
}
