import type { Page } from '@playwright/test';

/** A person who types a form they know: about 280 keys a minute. */
const KEYS_PER_SECOND = 4.7;
/** To read the next field's name and find its value in the report. */
const SECONDS_PER_FIELD = 0.5;

const MOST_STOPS = 120;

/** Enters by keyboard alone, and counts what that takes. */
export class Typist {
  keys = 0;
  fields = 0;

  constructor(private readonly page: Page) {}

  async press(key: string, times = 1): Promise<void> {
    for (let i = 0; i < times; i += 1) await this.page.keyboard.press(key);
    this.keys += times;
  }

  async type(text: string): Promise<void> {
    await this.page.keyboard.type(text);
    this.keys += text.length;
  }

  /** Goes on by Tab to a field of a form, by its path. */
  async goTo(path: string): Promise<void> {
    await this.tabUntil(`the field ${path}`, async () => (await this.focusedField()) === path);
    this.fields += 1;
  }

  /** Goes on by Tab to one choice of a field of several. */
  async goToOption(path: string, words: string): Promise<void> {
    await this.tabUntil(words, async () => {
      return (await this.focusedField()) === path && (await this.focusedOption()) === words;
    });
    this.fields += 1;
  }

  /** Goes on by Tab to a link or a button, by its words. */
  async goToWords(words: string): Promise<void> {
    await this.tabUntil(words, async () => (await this.focusedWords()) === words);
  }

  /** Goes on to a field and types a value, or the beginning of a choice of a list. */
  async enter(path: string, text: string): Promise<void> {
    await this.goTo(path);
    await this.type(text);
  }

  /** Goes on to a row of choices and takes the one so many steps to the right of the one chosen. */
  async choose(path: string, steps: number): Promise<void> {
    await this.goTo(path);
    await this.press(steps > 0 ? 'ArrowRight' : 'ArrowLeft', Math.abs(steps));
  }

  /** What it takes a person, in whole seconds. */
  get seconds(): number {
    return Math.round(this.keys / KEYS_PER_SECOND + this.fields * SECONDS_PER_FIELD);
  }

  private async tabUntil(wanted: string, isThere: () => Promise<boolean>): Promise<void> {
    for (let i = 0; i < MOST_STOPS; i += 1) {
      if (await isThere()) return;
      await this.press('Tab');
    }
    throw new Error(`The key Tab does not lead to ${wanted}; last stop: ${await this.focusedWords()}.`);
  }

  private focusedField(): Promise<string | undefined> {
    return this.page.evaluate(() => {
      const place = document.activeElement?.closest('[data-field]');
      return place instanceof HTMLElement ? place.dataset.field : undefined;
    });
  }

  private focusedOption(): Promise<string> {
    return this.page.evaluate(() => document.activeElement?.closest('label')?.textContent?.trim() ?? '');
  }

  private focusedWords(): Promise<string> {
    return this.page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
  }
}
