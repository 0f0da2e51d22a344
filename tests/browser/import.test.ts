import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, test } from './lab-test';

const EXAMPLE = 'docs/examples/rhythm-readings.csv';
const csv = readFileSync(EXAMPLE, 'utf8').trimEnd();

const writeButton = (page: Page) => page.getByRole('button', { name: /^Write \d+ patients/ });
const published = (page: Page) =>
  page.getByRole('row').filter({ hasText: 'Rhythm readings of the follow-up clinic' });

/** Chooses the guide's example, with these rows behind it, and has it checked. */
async function check(page: Page, ...moreRows: readonly string[]): Promise<void> {
  await page.getByLabel('Or take the mapping from a file').setInputFiles(`${EXAMPLE}.mapping.json`);
  await page.getByLabel('Rhythm readings, CSV').setInputFiles({
    name: 'readings.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(`${[csv, ...moreRows].join('\n')}\n`),
  });
  await page.getByRole('button', { name: 'Check the file' }).click();
}

test('a file of readings is checked, mended, written once, and parts the curve by its groups', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'coordinator');
  await page.goto('/exchange');

  await check(page, 'X01,soon,0,1,m,59', 'X02,8.6,9,2,m,66');
  await expect(page.getByRole('row').filter({ hasText: 'The time is not a number' })).toBeVisible();
  await expect(
    page.getByRole('row').filter({ hasText: 'The mapping does not say which rhythm this is' }),
  ).toBeVisible();
  await expect(writeButton(page)).toBeDisabled();

  const secondTab = await page.context().newPage();
  await secondTab.goto('/exchange');
  for (const tab of [page, secondTab]) {
    await check(tab);
    await expect(writeButton(tab)).toHaveText('Write 12 patients and 78 readings');
  }
  await writeButton(page).click();
  await expect(published(page)).toHaveCount(1);

  // A tab that was checked before the other one wrote.
  await writeButton(secondTab).click();
  await expect(secondTab.getByText(/^This very file was imported .*; nothing was changed\.$/)).toBeVisible();
  await secondTab.close();
  await check(page);
  await expect(page.getByText('There is nothing to write')).toBeVisible();
  await expect(writeButton(page)).toHaveCount(0);
  await page.reload();
  await expect(published(page)).toHaveCount(1);

  await page.goto('/outcomes?by=cohort-tag&drugs=ignored&blanking=30');
  for (const group of ['control', 'ablation']) {
    await expect(page.getByRole('rowheader', { name: new RegExp(group) }).first()).toBeVisible();
  }
  // Six of the example's twelve patients are of each group; each has a reading after day 0.
  for (const group of ['control', 'ablation']) {
    await page.goto(`/outcomes?tag=${group}&drugs=ignored&blanking=0`);
    const analysed = page.locator('aside td a[href$="set=analysed"]');
    expect(await analysed.evaluate((link) => link.firstChild?.textContent)).toBe('6');
  }
});
