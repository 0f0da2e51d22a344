import type { Page } from '@playwright/test';
import { daysAgo, recordProcedure, registerPatient } from './entering';
import { expect, test } from './lab-test';

const HEADS = 'patient,day,device,burden_minutes,longest_episode_seconds';
/** 100 days before today until 2 days before: the procedure was 120 days ago. */
const rowsOf = (code: string, burdens: Readonly<Record<number, string>> = {}): string[] =>
  Array.from({ length: 99 }, (_, index) => {
    const ago = 100 - index;
    return `${code},${daysAgo(ago)},implanted-monitor,${burdens[ago] ?? '0,'}`;
  });

async function check(page: Page, rows: readonly string[]): Promise<void> {
  await page.getByLabel('Daily burden, CSV').setInputFiles({
    name: 'days.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(`${[HEADS, ...rows].join('\n')}\n`),
  });
  await page.getByRole('button', { name: 'Check the file' }).click();
  await expect(page.getByRole('heading', { name: 'What the file would write' })).toBeVisible();
}

test('device days are checked, mended, written once, corrected, and drawn on the case', async ({
  browser,
  page,
  signInAs,
}) => {
  await signInAs(page, 'director');
  const code = await registerPatient(page, '1957');
  const casePath = await recordProcedure(page, daysAgo(120));

  await page.goto('/exchange');
  await page.getByRole('link', { name: 'Import daily burden' }).click();
  await check(page, [
    ...rowsOf(code),
    `${code},${daysAgo(1)},wristwatch,0,`,
    `P-2222-2,${daysAgo(1)},pacemaker,0,`,
  ]);
  await expect(page.getByRole('row').filter({ hasText: 'This kind of device is not known' })).toBeVisible();
  const write = page.getByRole('button', { name: /^Write \d+ days?$/ });
  await expect(write).toBeDisabled();
  await page.getByLabel('Leave the 2 refused rows out').check();
  await expect(write).toHaveText('Write 99 days');

  // AF of 20 min on two days, one with its longest episode: 20 days ago is day 100 after the procedure.
  const rows = rowsOf(code, { 20: '20,700', 10: '20,' });
  await check(page, rows);
  await expect(page.getByText('1 day with arrhythmia without a longest episode')).toBeVisible();
  await write.click();
  await expect(page.getByText('Written: 99 days of 1 patient.').first()).toBeVisible();
  await expect(page.getByRole('row').filter({ hasText: 'Device days' }).first()).toContainText('whole');

  await check(page, rows);
  await expect(page.getByText('Everything that the file may add is stored already.')).toBeVisible();
  await expect(write).toHaveCount(0);

  await page.goto(`${casePath}/follow-up`);
  await page.getByRole('link', { name: 'Arrhythmia by day' }).click();
  await expect(page.getByRole('paragraph').filter({ hasText: 'arrhythmia on 2 of them' })).toBeVisible();
  await expect(page.getByRole('img', { name: 'Arrhythmia by day' })).toBeVisible();
  const underPlain = page.getByRole('row', { name: /^Any AF, AT or AFL, drugs ignored/ });
  await expect(underPlain).toContainText('AF of 700 s on day 100, continuous.');
  await page.getByText('Table of all days').click();
  await expect(page.getByRole('row', { name: /^110 / })).toContainText('not given: at most 20 min');

  // A coordinator has the tracing of day 100 read: there was none.
  const other = await (await browser.newContext()).newPage();
  await signInAs(other, 'coordinator');
  await other.goto('/exchange/device-days');
  await check(other, rowsOf(code, { 20: '0,', 10: '20,' }));
  await expect(other.getByRole('button', { name: /^Write / })).toBeDisabled();
  await other.getByLabel('Replace it by what the file says').check();
  await other.getByRole('button', { name: 'Write 1 day', exact: true }).click();
  await expect(other.getByText('Written: 1 day of 1 patient.').first()).toBeVisible();
  await page.reload();
  await expect(underPlain).toContainText(
    'AF of at most 1200 s (the burden of the day) on day 110, continuous.',
  );
  await page.goto(`${casePath}/history`);
  await expect(page.getByRole('row').filter({ hasText: 'Device days' })).toHaveCount(2);
});

test('a file is checked and written by keyboard alone', async ({ page, signInAs }) => {
  await signInAs(page, 'director');
  const code = await registerPatient(page, '1958');
  await recordProcedure(page, daysAgo(120));
  await page.goto('/exchange/device-days');
  const file = page.getByLabel('Daily burden, CSV');
  // The choice of a file is the system's own window: what follows is keys only.
  await file.setInputFiles({
    name: 'days.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(`${[HEADS, ...rowsOf(code), `${code},soon,pacemaker,0,`].join('\n')}\n`),
  });
  await file.focus();
  await page.keyboard.press('Tab');
  await expect(page.getByRole('button', { name: 'Check the file' })).toBeFocused();
  await page.keyboard.press('Enter');
  const answer = page.getByRole('region', { name: 'Answer to the check' });
  await expect(answer).toBeFocused();
  const leaveOut = page.getByLabel('Leave the refused row out');
  for (
    let press = 0;
    press < 5 && !(await leaveOut.evaluate((box) => box === document.activeElement));
    press += 1
  ) {
    await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Space');
  await page.keyboard.press('Tab');
  await expect(page.getByRole('button', { name: 'Write 99 days' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(page.getByText('Written: 99 days of 1 patient.').first()).toBeVisible();
});

test('progress is told to who may import, and to nobody else', async ({ address, page, signInAs }) => {
  const ask = (file: string) => page.request.get(`${address}/api/imports/progress?file=${file}`);
  const unknown = '0'.repeat(64);
  expect((await ask(unknown)).status()).toBe(401);
  await signInAs(page, 'physician');
  expect((await ask(unknown)).status()).toBe(403);
  await page.context().clearCookies();
  await signInAs(page, 'coordinator');
  expect(await (await ask(unknown)).json()).toBeNull();
  expect((await ask('1')).status()).toBe(400);
});

test('every number of early recurrence opens as many cases', async ({ page, signInAs }) => {
  await signInAs(page, 'physician');
  await page.goto('/outcomes/early-recurrence');
  await expect(page.getByText(/^Early recurrence was recorded in [\d,]+ of [\d,]+ cases:/)).toBeVisible();
  const links = page.locator('a[href*="early-recurrence/cases?set="]');
  const numbers = await links.evaluateAll((all) =>
    all.map((link) => ({ href: link.getAttribute('href') ?? '', text: link.firstChild?.textContent ?? '' })),
  );
  expect(numbers.length).toBeGreaterThan(12);
  for (const { href, text } of numbers) {
    await page.goto(href);
    const told =
      text === '0' ? 'The number is zero' : `${text} ${text === '1' ? 'case' : 'cases'}: exactly those`;
    await expect(page.getByText(told), href).toBeVisible();
  }
});
