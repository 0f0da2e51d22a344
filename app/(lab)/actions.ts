'use server';

import { cookies } from 'next/headers';
import { readTheme, THEME_COOKIE, type Theme } from '@/components/shell/theme';

const YEAR_SECONDS = 31_536_000;

/** Keeps how the pages look for this browser. It touches no record, so anybody may choose; an unknown word means 'system'. */
export async function chooseTheme(theme: Theme): Promise<void> {
  const jar = await cookies();
  jar.set(THEME_COOKIE, readTheme(theme), {
    path: '/',
    maxAge: YEAR_SECONDS,
    sameSite: 'lax',
    httpOnly: true,
  });
}
