import { expect, test } from './lab-test';
import { startLab } from './running-lab';

test('a lab of one’s own begins empty, with a link that makes the first administrator once', async ({
  page,
  troubles,
}) => {
  test.setTimeout(400_000);
  const lab = await startLab('production');
  try {
    const link = /http:\/\/localhost:\d+\/first-run\?token=\S+/.exec(lab.said())?.[0];
    if (link === undefined) throw new Error(`no link in:\n${lab.said()}`);
    await page.goto(link);
    await page.getByLabel('Sign-in name').fill('head.of.lab');
    await page.getByLabel('Password needed', { exact: true }).fill('four plain words in a row');
    await page.getByLabel('The same password again').fill('four plain words in a row');
    await page.getByRole('button', { name: 'Make the administrator' }).click();
    await page.waitForURL('**/sign-in');
    await page.getByLabel('Sign-in name').fill('head.of.lab');
    await page.getByLabel('Password').fill('four plain words in a row');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.waitForURL('**/today');
    await expect(page.getByText('invented data')).toHaveCount(0);
    await expect(page.getByText('Nothing is due')).toBeVisible();
    for (const [path, words] of [
      ['/cases', 'The register is empty'],
      ['/outcomes', 'No procedure is registered yet'],
      ['/exchange', 'Nothing was imported yet'],
    ] as const) {
      await page.goto(`${lab.address}${path}`);
      await expect(page.getByText(words)).toBeVisible();
    }
    await page.context().clearCookies();
    await page.goto(link);
    await page.getByLabel('Sign-in name').fill('somebody.else');
    await page.getByLabel('Password needed', { exact: true }).fill('four other words in a row');
    await page.getByLabel('The same password again').fill('four other words in a row');
    await page.getByRole('button', { name: 'Make the administrator' }).click();
    await expect(page.getByText('This link is not valid any more').first()).toBeVisible();
    expect(troubles).toEqual([]);
  } finally {
    await lab.stop();
  }
});
