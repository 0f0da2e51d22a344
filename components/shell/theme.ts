export const THEMES = ['system', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

/** Kept in the browser for a year; holds the choice and nothing else. */
export const THEME_COOKIE = 'afterbeat-theme';

/** The choice in the cookie; anything unknown means the system decides. */
export function readTheme(value: string | undefined): Theme {
  return THEMES.find((theme) => theme === value) ?? 'system';
}
