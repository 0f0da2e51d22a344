import localFont from 'next/font/local';

/** Self-hosted variable fonts: nothing is fetched from elsewhere, and the fallback is sized to match while they load. */
const serif = localFont({
  src: '../../node_modules/@fontsource-variable/source-serif-4/files/source-serif-4-latin-wght-normal.woff2',
  variable: '--face-serif',
  weight: '200 900',
  display: 'swap',
  adjustFontFallback: 'Times New Roman',
});

const sans = localFont({
  src: '../../node_modules/@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2',
  variable: '--face-sans',
  weight: '200 900',
  display: 'swap',
  adjustFontFallback: 'Arial',
});

/** Classes for <html> that make both faces known to the tokens. */
export const fontClasses = `${serif.variable} ${sans.variable}`;
