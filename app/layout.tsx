import type { Metadata } from 'next';
import { cookies } from 'next/headers';
import type { ReactNode } from 'react';
import { readTheme, THEME_COOKIE } from '@/components/shell/theme';
import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-serif-4/wght.css';
import './styles/fonts.css';
import './styles/tokens.css';
import './styles/base.css';

export const metadata: Metadata = {
  title: { template: '%s - Afterbeat', default: 'Afterbeat' },
  description: 'Case registry and outcomes of a lab that ablates atrial fibrillation.',
  robots: { index: false, follow: false },
};

/** Reading the cookie also keeps every page dynamic, which the nonce of the content policy needs. */
export default async function RootLayout({ children }: { children: ReactNode }) {
  const theme = readTheme((await cookies()).get(THEME_COOKIE)?.value);
  return (
    <html lang="en" data-theme={theme === 'system' ? undefined : theme}>
      <body>{children}</body>
    </html>
  );
}
