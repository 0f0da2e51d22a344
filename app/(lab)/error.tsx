'use client';

import { ErrorWords } from '@/components/shell/error-words';

export default function LabError({ error, retry }: { error: unknown; retry: () => void }) {
  return <ErrorWords error={error} retry={retry} />;
}
