'use client';

import { ErrorWords } from '@/components/shell/error-words';
import { LonePage } from '@/components/shell/lone-page';
import './styles/tokens.css';
import './styles/base.css';
import { fontClasses } from './styles/fonts';

/** Stands in for the whole document when even the frame could not be made. */
export default function GlobalError({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <html lang="en" className={fontClasses}>
      <body>
        <title>Something failed - Afterbeat</title>
        <LonePage>
          <ErrorWords error={error} retry={retry} />
        </LonePage>
      </body>
    </html>
  );
}
