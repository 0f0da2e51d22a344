'use client';

import { ErrorWords } from '@/components/shell/error-words';
import { LonePage } from '@/components/shell/lone-page';

export default function PageError({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <LonePage>
      <ErrorWords error={error} retry={retry} />
    </LonePage>
  );
}
