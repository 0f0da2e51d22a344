'use client';

import { ErrorWords } from '@/components/shell/error-words';
import { LonePage } from '@/components/shell/lone-page';
import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-serif-4/wght.css';
import './styles/fonts.css';
import './styles/tokens.css';
import './styles/base.css';

/** Stands in for the whole document when even the frame could not be made. */
export default function GlobalError({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <html lang="en">
      <body>
        <title>Something failed - Afterbeat</title>
        <LonePage>
          <ErrorWords error={error} retry={retry} />
        </LonePage>
      </body>
    </html>
  );
}
