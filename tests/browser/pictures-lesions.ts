import type { Page } from '@playwright/test';
import { daysAgo, recordProcedure, registerPatient } from './entering';
import { test } from './lab-test';

const LOOKS = [
  ['light', 'light', 'screen'],
  ['dark', 'dark', 'screen'],
  ['paper', 'light', 'print'],
] as const;

async function shootLooks(page: Page, name: string): Promise<void> {
  for (const [look, colorScheme, media] of LOOKS) {
    await page.emulateMedia({ colorScheme, media });
    await page.screenshot({ path: `pictures/lesions-${name}-${look}.png`, fullPage: true });
  }
  await page.emulateMedia({ colorScheme: 'light', media: 'screen' });
}

async function firstCase(page: Page, query: string): Promise<string> {
  await page.goto(`/cases?${query}`);
  return (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
}

test('pictures: the schematic of lesions, empty, half, full, and of a repeat', async ({ page, signInAs }) => {
  await page.setViewportSize({ width: 1240, height: 900 });
  await signInAs(page, 'physician');
  await registerPatient(page, '1958');
  const casePath = await recordProcedure(page, daysAgo(40));
  await page.goto(`${casePath}/lesions/edit`);
  await shootLooks(page, 'empty');
  await page.getByRole('button', { name: /^Left pair, superior:/ }).click();
  const panel = page.getByRole('region', { name: 'Left pair, superior' });
  await panel.getByRole('button', { name: 'state: Done' }).click();
  await panel.getByLabel('From the ostium, mm').fill('12');
  await panel.getByLabel('Before, mV').fill('1.2');
  await panel.getByLabel('After, mV').fill('0.08');
  await panel.getByRole('button', { name: 'Fill the rest of the ring like this' }).click();
  await page.getByRole('button', { name: /^Left pair, anterior carina:/ }).click();
  await page.getByRole('region', { name: 'Left pair, anterior carina' }).getByLabel('After, mV').fill('0.4');
  await shootLooks(page, 'half-typed');
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  await page.waitForURL(`**${casePath}/lesions`);
  await shootLooks(page, 'half');
  await page.goto(`${await firstCase(page, 'year=2023&strategy=wide-with-lines')}/lesions`);
  await shootLooks(page, 'full');
  await page.goto(`${await firstCase(page, 'sequence=repeat&strategy=wide-encircling')}/lesions`);
  await shootLooks(page, 'repeat');
});
