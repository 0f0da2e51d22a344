import type { Locator, Page } from '@playwright/test';

/** To find a target and press it. */
const SECONDS_PER_TAP = 1;
/** A key of the keyboard on the screen. */
const SECONDS_PER_KEY = 0.3;
/** WCAG 2.2, success criterion 2.5.8. */
const LEAST_TARGET_PX = 24;

/** Enters by finger on a tablet, and counts what that takes. */
export class Finger {
  taps = 0;
  keys = 0;
  /** The smallest side of any target pressed, in px. */
  least = Number.POSITIVE_INFINITY;

  constructor(private readonly page: Page) {}

  async tap(target: Locator): Promise<void> {
    await target.scrollIntoViewIfNeeded();
    // A press on the words of a box presses the box.
    const box = await target.evaluate((element) => {
      const { width, height } = (element.closest('label') ?? element).getBoundingClientRect();
      return { width, height };
    });
    this.least = Math.min(this.least, box.width, box.height);
    await target.tap();
    this.taps += 1;
  }

  press(words: string): Promise<void> {
    return this.tap(this.page.getByRole('button', { name: words, exact: true }));
  }

  async type(field: Locator, text: string): Promise<void> {
    await this.tap(field);
    await this.page.keyboard.type(text);
    this.keys += text.length;
  }

  /** Fields of a form by their path, with what is typed. */
  async typeAll(values: Readonly<Record<string, string>>): Promise<void> {
    for (const [path, text] of Object.entries(values)) await this.type(this.control(path), text);
  }

  /** Lists of a form by their path: one press opens the list, one takes the choice. */
  async takeAll(values: Readonly<Record<string, string>>): Promise<void> {
    for (const [path, label] of Object.entries(values)) {
      await this.tap(this.control(path));
      await this.control(path).selectOption({ label });
      this.taps += 1;
    }
  }

  /** One of a row of choices. */
  choose(path: string, label: string): Promise<void> {
    return this.tap(this.page.locator(`[data-field="${path}"]`).getByLabel(label, { exact: true }));
  }

  get seconds(): number {
    return Math.round(this.taps * SECONDS_PER_TAP + this.keys * SECONDS_PER_KEY);
  }

  get hasRoom(): boolean {
    return this.least >= LEAST_TARGET_PX;
  }

  private control(path: string): Locator {
    return this.page.locator(`[data-field="${path}"]`).locator('input, select').first();
  }
}
