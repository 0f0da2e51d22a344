import { readFileSync } from 'node:fs';
import { expect, test } from './lab-test';

const EXAMPLE = 'docs/examples/rhythm-readings.csv';

test('a file of readings is checked, mended, written once, and parts the curve by its groups', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'coordinator');
  await page.goto('/exchange');
  const csv = readFileSync(EXAMPLE, 'utf8').trimEnd();
  const choose = (text: string) =>
    page.getByLabel('Rhythm readings, CSV').setInputFiles({
      name: 'readings.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(`${text}\n`),
    });
  await page.getByLabel('Or take the mapping from a file').setInputFiles(`${EXAMPLE}.mapping.json`);
  await choose(`${csv}\nX01,soon,0,1,m,59`);
  await page.getByRole('button', { name: 'Check the file' }).click();
  const refused = page.getByRole('row').filter({ hasText: 'The time is not a number' });
  await expect(refused).toBeVisible();
  const write = page.getByRole('button', { name: /^Write \d+ patients/ });
  await expect(write).toBeDisabled();

  await choose(csv);
  await page.getByRole('button', { name: 'Check the file' }).click();
  await expect(write).toHaveText('Write 12 patients and 78 readings');
  await write.click();
  await expect(
    page.getByRole('row').filter({ hasText: 'Rhythm readings of the follow-up clinic' }),
  ).toBeVisible();

  await choose(csv);
  await page.getByRole('button', { name: 'Check the file' }).click();
  await expect(page.getByText('There is nothing to write')).toBeVisible();

  await page.goto('/outcomes?by=cohort-tag&drugs=ignored&blanking=30');
  await expect(page.getByRole('rowheader', { name: /ablation/ }).first()).toBeVisible();
  await page.goto('/outcomes?tag=control&drugs=ignored&blanking=0');
  const analysed = page.locator('aside td a[href$="set=analysed"]');
  // Six of the example's twelve patients are of the control group; each has a reading after day 0.
  expect(await analysed.evaluate((link) => link.firstChild?.textContent)).toBe('6');
});
