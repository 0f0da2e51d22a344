'use client';

import { useState, useTransition } from 'react';
import { readTheme, THEMES, type Theme } from './theme';
import styles from './theme-switch.module.css';

const LABELS: Record<Theme, string> = { system: 'as the system', light: 'light', dark: 'dark' };

interface ThemeSwitchProps {
  readonly initial: Theme;
  /** Keeps the choice in a cookie on the server's side, so that the next page is drawn right from the start. */
  readonly choose: (theme: Theme) => Promise<void>;
}

function show(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}

/** Light, dark, or as the system says. The page changes at once; the cookie follows. */
export function ThemeSwitch({ initial, choose }: ThemeSwitchProps) {
  const [theme, setTheme] = useState<Theme>(initial);
  const [, startKeeping] = useTransition();
  return (
    <label className={styles.switch}>
      <span>Paper</span>
      <select
        value={theme}
        className={styles.select}
        onChange={(event) => {
          const option = readTheme(event.target.value);
          setTheme(option);
          show(option);
          startKeeping(() => choose(option));
        }}
      >
        {THEMES.map((option) => (
          <option key={option} value={option}>
            {LABELS[option]}
          </option>
        ))}
      </select>
    </label>
  );
}
