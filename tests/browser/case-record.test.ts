import { daysAgo, recordProcedure, registerPatient } from './entering';
import { expect, test } from './lab-test';

test('an unusual value stays only with a reason, and says so on the case', async ({ page, signInAs }) => {
  await signInAs(page, 'physician');
  await registerPatient(page, '1957');
  await page.getByLabel('Procedure day').fill(daysAgo(20));
  await page.getByLabel('Energy').selectOption({ label: 'Radiofrequency' });
  await page.getByLabel('LVEF').fill('12');
  await page.getByRole('button', { name: 'Record the procedure' }).click();
  const summary = page.getByRole('region', { name: /One value is unusual/ });
  await expect(summary).toBeFocused();
  await page.getByRole('button', { name: 'Record the procedure' }).click();
  await expect(summary, 'pressing again is no reason').toBeVisible();
  await summary.getByLabel('Keep it anyway').selectOption({ label: 'Measured again' });
  await page.getByRole('button', { name: 'Record the procedure' }).click();
  await page.waitForURL(/\/cases\/[0-9a-f-]{36}$/);
  await expect(page.getByText('12 % (unusual, kept: measured again)')).toBeVisible();
});

test('what was typed is kept as a draft, taken up in another tab, and gone once it is saved', async ({
  page,
  context,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  await registerPatient(page, '1962');
  const address = page.url();
  await page.getByLabel('Procedure day').fill(daysAgo(40));
  await page.getByLabel('Energy').selectOption({ label: 'Pulsed field' });
  await page.getByLabel('Device lot').fill('Linde, Katharina');
  await page.getByRole('checkbox', { name: 'Sotalol' }).check();
  await expect(page.getByText(/Draft kept at \d\d:\d\d UTC/)).toBeVisible({ timeout: 4000 });
  await expect(page.getByText(/Device lot: it looks like a name/)).toBeVisible();
  const other = await context.newPage();
  await page.close({ runBeforeUnload: false });
  await other.goto(address);
  await other.getByRole('button', { name: 'Take it up' }).click();
  await expect(other.getByLabel('Procedure day')).toHaveValue(daysAgo(40));
  await expect(other.getByLabel('Energy')).toHaveValue('pulsed-field');
  await expect(other.getByRole('checkbox', { name: 'Sotalol' })).toBeChecked();
  await expect(other.getByLabel('Device lot'), 'flagged text was never sent to be kept').toHaveValue('');
  await other.getByRole('button', { name: 'Record the procedure' }).click();
  await other.waitForURL(/\/cases\/[0-9a-f-]{36}$/);
  await other.goto(address);
  await expect(other.getByRole('button', { name: 'Take it up' })).toHaveCount(0);
});

test('what a case still needs leads to the field, and every change can be looked back at', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  await registerPatient(page, '1951');
  const casePath = await recordProcedure(page, daysAgo(100));
  const margin = page.getByRole('complementary', { name: 'Margin notes' });
  await expect(margin.getByText('Draft')).toBeVisible();
  await margin.getByRole('link', { name: 'LVEF' }).click();
  await expect(page.getByLabel('LVEF')).toBeFocused();
  await page.keyboard.type('48');
  await page.getByLabel('Reason for the change').selectOption({ label: 'Information came late' });
  await page.getByRole('button', { name: 'Save the change' }).click();
  await page.waitForURL(`**${casePath}`);
  await expect(margin.getByRole('link', { name: 'LVEF' })).toHaveCount(0);
  await page.goto(`${casePath}/history`);
  await expect(page.getByRole('cell', { name: /LVEF: 48/ })).toBeVisible();
  await expect(page.getByRole('cell', { name: /physician/ }).first()).toBeVisible();
  await page.locator('tbody a').last().click();
  await expect(page.getByRole('heading', { name: /The record as it was on/ })).toBeVisible();
  await expect(page.getByText('LVEF', { exact: true })).toHaveCount(0);
});
