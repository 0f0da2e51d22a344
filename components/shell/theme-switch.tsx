'use client';

import { useState, useTransition } from 'react';
import { THEMES, type Theme } from './theme';
import styles from './theme-switch.module.css';

const LABELS: Record<Theme, string> = { system: 'System', light: 'Light', dark: 'Dark' };

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
    <fieldset className={styles.switch}>
      <legend>Ground</legend>
      {THEMES.map((option) => (
        <label key={option} className={styles.option}>
          <input
            type="radio"
            name="ground"
            value={option}
            checked={theme === option}
            onChange={() => {
              setTheme(option);
              show(option);
              startKeeping(() => choose(option));
            }}
          />
          {LABELS[option]}
        </label>
      ))}
    </fieldset>
  );
}
