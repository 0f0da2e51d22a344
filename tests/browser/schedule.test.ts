import type { Page } from '@playwright/test';
import { daysAgo, recordProcedure, registerPatient } from './entering';
import { expect, test } from './lab-test';

/** Versions of these tests are for one strategy and for days far ahead, so that the demo lab's plan stays as other tests know it. */
const inDays = (days: number) => daysAgo(-days);
const contact = (page: Page, number: number) =>
  page.getByRole('group', { name: `Contact ${number}`, exact: true });

async function openForm(page: Page, strategy: string, effectiveOn: string) {
  await page.goto(`/lab/schedule/new?for=${strategy}`);
  // Buttons answer as soon as the page's scripts have taken over.
  await expect(page.getByRole('button', { name: 'See what moves' })).toBeEnabled();
  const draft = page.getByRole('button', { name: 'Throw it away' });
  if (await draft.isVisible()) await draft.click();
  await page.getByLabel('Takes effect on').fill(effectiveOn);
}

test('a director makes a version: what moves is shown first, each count opens its cases, and the plan follows', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'director');
  await registerPatient(page, '1951');
  const casePath = await recordProcedure(page, daysAgo(10));
  await page.goto('/lab');
  await page.getByRole('link', { name: 'Follow-up schedule' }).click();
  await page.waitForURL('**/lab/schedule');
  await expect(page.getByRole('row', { name: /Visit, 18 months/ })).toContainText(
    '45 days before to 60 after',
  );
  await page.getByRole('link', { name: 'Make a new version' }).click();
  await page.waitForURL('**/lab/schedule/new');

  await openForm(page, 'wide-encircling', daysAgo(1));
  await contact(page, 8)
    .getByRole('button', { name: /Remove/ })
    .click();
  await contact(page, 6).getByLabel('Evidence needed').selectOption({ label: '24 h' });
  await page.getByRole('button', { name: 'See what moves' }).click();
  await expect(
    page.getByText(/lies in the past, and a new version replans the future only/).first(),
  ).toBeVisible();
  await page.getByLabel('Takes effect on').fill(inDays(300));
  await page.getByRole('button', { name: 'See what moves' }).click();
  await page.waitForURL('**/lab/schedule/preview');
  await expect(page.getByRole('heading', { level: 1 })).toContainText(
    /^Contacts of [\d,]+ of the [\d,]+ cases/,
  );
  await expect(page.getByRole('row', { name: /Visit, 18 months/ }).last()).toContainText('dropped');

  const dropped = page.getByRole('row', { name: /Dropped: Visit, 18 months/ });
  const count = Number((await dropped.getByRole('link').textContent())?.match(/\d+/)?.[0]);
  await dropped.getByRole('link').click();
  await page.waitForURL('**show=dropped**');
  const list = page.getByRole('table', { name: 'Dropped: Visit, 18 months' });
  await expect(list.getByRole('row')).toHaveCount(Math.min(count, 50) + 1);
  if (count > 50) await expect(page.getByText(`1 to 50 of ${count} cases`)).toBeVisible();

  await page.getByRole('button', { name: /^Store version/ }).click();
  await page.waitForURL(/\/lab\/schedule\/[0-9a-f-]{36}$/);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^Version \d+ for wide encircling/);
  await expect(page.getByRole('row', { name: /Dropped: Visit, 18 months/ })).toContainText(String(count));
  await page.goto('/lab/schedule');
  await expect(page.getByRole('link', { name: /^Version \d+ for wide encircling/ }).first()).toBeVisible();

  // Month 18 opens long after the version takes effect; what comes before stays.
  await page.goto(`${casePath}/visits/new`);
  const slots = page.getByLabel('Visit needed');
  await expect(slots.getByRole('option', { name: 'Visit, 12 months' })).toHaveCount(1);
  await expect(slots.getByRole('option', { name: 'Visit, 18 months' })).toHaveCount(0);
  await slots.selectOption({ label: 'Visit, 3 months' });
  await expect(page.getByText('Needs: ECG.')).toBeVisible();
});

test('two people make a version at once: the second is told, and nothing typed is lost', async ({
  page,
  browser,
  signInAs,
}) => {
  await signInAs(page, 'director');
  const other = await (await browser.newContext()).newPage();
  await signInAs(other, 'administrator');
  for (const [who, row] of [
    [page, 9],
    [other, 10],
  ] as const) {
    await openForm(who, 'mixed', inDays(301));
    await contact(who, row)
      .getByRole('button', { name: /Remove/ })
      .click();
    await who.getByRole('button', { name: 'See what moves' }).click();
    await who.waitForURL('**/lab/schedule/preview');
  }
  await page.getByRole('button', { name: /^Store version/ }).click();
  await page.waitForURL(/\/lab\/schedule\/[0-9a-f-]{36}$/);
  await other.getByRole('button', { name: /^Store version/ }).click();
  await expect(other.getByText(/^Version \d+ was made meanwhile/).first()).toBeVisible();
  await other.reload();
  await expect(other.getByRole('button', { name: /^Store version/ })).toBeVisible();
  await expect(other.getByRole('row', { name: /Visit, 2 years/ }).last()).toContainText('new');
  await expect(other.getByRole('row', { name: /Visit, 3 years/ }).last()).toContainText('dropped');
  await other.getByRole('link', { name: 'Change it again' }).click();
  await other.waitForURL('**/new?again=1');
  await expect(other.getByLabel('For needed')).toHaveValue('mixed');
  await expect(other.getByRole('group', { name: /^Contact \d+$/ })).toHaveCount(16);
  await other.context().close();
});

test('a version is made without a mouse', async ({ page, signInAs }) => {
  await signInAs(page, 'administrator');
  await openForm(page, 'single-shot', inDays(302));
  const focused = () =>
    page.evaluate(() => {
      const element = document.activeElement;
      if (!(element instanceof HTMLElement)) return '';
      const labels = 'labels' in element && element.labels instanceof NodeList ? [...element.labels] : [];
      return [...labels.map((one) => one.textContent ?? ''), element.textContent ?? ''].join(' ').trim();
    });
  const tabTo = async (name: RegExp, times = 1) => {
    let seen = 0;
    for (let i = 0; i < 200; i += 1) {
      await page.keyboard.press('Tab');
      const label = await focused();
      expect(label, 'the focus is never lost').not.toBe('');
      if (name.test(label)) seen += 1;
      if (seen === times) return;
    }
    throw new Error(`no stop called ${name}`);
  };
  await page.getByLabel('Takes effect on').focus();
  await tabTo(/^Window after/, 8);
  await page.keyboard.type('75');
  await tabTo(/^Add a contact/);
  await page.keyboard.press('Enter');
  await expect(contact(page, 18)).toBeVisible();
  await tabTo(/^Remove contact 18/);
  await page.keyboard.press('Enter');
  await expect(contact(page, 18)).toHaveCount(0);
  await expect.poll(focused).toMatch(/^Remove contact 17/);
  await tabTo(/^See what moves/);
  await page.keyboard.press('Enter');
  await page.waitForURL('**/lab/schedule/preview');
  await expect(page.getByRole('row', { name: /Window changed: Visit, 18 months/ })).toBeVisible();
  await tabTo(/^Store version/);
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/lab\/schedule\/[0-9a-f-]{36}$/);
});

test('a coordinator reads the schedule and changes nothing', async ({ page, signInAs, troubles }) => {
  await signInAs(page, 'coordinator');
  await page.goto('/lab/schedule');
  await expect(page.getByText('The lab director or an administrator.')).toBeVisible();
  await expect(page.getByRole('link', { name: 'Make a new version' })).toHaveCount(0);
  await page.getByRole('link', { name: 'Version 1 for all strategies' }).click();
  await expect(page.getByText('It holds from the beginning.')).toBeVisible();
  for (const path of ['new', 'preview']) {
    expect((await page.goto(`/lab/schedule/${path}`))?.status()).toBe(403);
  }
  expect((await page.goto('/lab/schedule/not-an-id'))?.status()).toBe(404);
  troubles.splice(0, troubles.length, ...troubles.filter((text) => !/status of 40[34]/.test(text)));
});
