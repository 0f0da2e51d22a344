import type { Page } from '@playwright/test';
import { registerPatient } from './entering';
import { test } from './lab-test';
import { startLab } from './running-lab';

const FOLDER = 'pictures';
const SCREENS: readonly [name: string, path: string][] = [
  ['today', '/today'],
  ['today-missed', '/today?show=missed'],
  ['today-unfinished', '/today/unfinished'],
  ['cases', '/cases'],
  ['cases-none', '/cases?operator=OP-9'],
  ['case-baseline', '/cases/CASE'],
  ['case-follow-up', '/cases/CASE/follow-up'],
  ['case-edit', '/cases/CASE/edit'],
  ['case-lesions', '/cases/CASE/lesions'],
  ['case-lesions-edit', '/cases/CASE/lesions/edit'],
  ['visit-new', '/cases/CASE/visits/new'],
  ['patient-new', '/patients/new'],
  ['outcomes', '/outcomes'],
  ['outcomes-by-strategy', '/outcomes?by=intended-strategy&drugs=ignored'],
  ['outcomes-by-af-type', '/outcomes?by=af-type&drugs=ignored'],
  ['outcomes-wrong', '/outcomes?blanking=soon&drugs=ignored'],
  ['outcomes-cases', '/outcomes/cases?drugs=ignored&set=events'],
  ['exchange', '/exchange'],
  ['lab', '/lab'],
  ['schedule', '/lab/schedule'],
  ['schedule-new', '/lab/schedule/new'],
  ['not-found', '/cases/00000000-0000-4000-8000-000000000000'],
];

const shoot = (page: Page, name: string) =>
  page.screenshot({ path: `${FOLDER}/${name}.png`, fullPage: true });

async function casePathOf(page: Page): Promise<string> {
  await page.goto('/cases?year=2023');
  return (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
}

for (const [look, width, scheme, media] of [
  ['light', 1440, 'light', 'screen'],
  ['dark', 1440, 'dark', 'screen'],
  ['tablet', 820, 'light', 'screen'],
  ['phone', 360, 'light', 'screen'],
  ['paper', 1000, 'light', 'print'],
] as const) {
  test(`pictures: ${look}`, async ({ page, signInAs, troubles }) => {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme, media });
    await page.goto('/sign-in');
    await shoot(page, `${look}-sign-in`);
    await page.emulateMedia({ colorScheme: scheme, media: 'screen' });
    await signInAs(page, 'director');
    const casePath = await casePathOf(page);
    await page.emulateMedia({ colorScheme: scheme, media });
    for (const [name, path] of SCREENS) {
      await page.goto(path.replace('/cases/CASE', casePath));
      await shoot(page, `${look}-${name}`);
    }
    troubles.splice(0, troubles.length, ...troubles.filter((text) => !text.includes('status of 404')));
  });
}

test('pictures: errors and conflict', async ({ browser, page, signInAs }) => {
  await signInAs(page, 'coordinator');
  await registerPatient(page, '1950');
  const address = page.url();
  await page.getByLabel('Day of death').fill('1.2.2024');
  await page.getByRole('button', { name: 'Save the change' }).click();
  await page.getByRole('region', { name: /^Not saved/ }).waitFor();
  await shoot(page, 'error-form');
  const other = await (await browser.newContext()).newPage();
  await signInAs(other, 'director');
  await other.goto(address);
  await page.goto(address);
  for (const [who, year] of [
    [other, '1951'],
    [page, '1952'],
  ] as const) {
    await who.getByLabel('Birth year').fill(year);
    await who.getByLabel('Reason for the change').selectOption({ label: 'Typing error' });
    await who.getByRole('button', { name: 'Save the change' }).click();
    if (who === other) await who.getByText('is changed').first().waitFor();
  }
  await page.getByRole('region', { name: /somebody else changed/ }).waitFor();
  await shoot(page, 'conflict');
});

test('pictures: an empty lab', async ({ page }) => {
  const lab = await startLab('production');
  try {
    await page.goto(/http:\/\/localhost:\d+\/first-run\?token=\S+/.exec(lab.said())?.[0] ?? '');
    await shoot(page, 'empty-first-run');
    await page.getByLabel('Sign-in name').fill('head.of.lab');
    await page.getByLabel('Password needed', { exact: true }).fill('four plain words in a row');
    await page.getByLabel('The same password again').fill('four plain words in a row');
    await page.getByRole('button', { name: 'Make the administrator' }).click();
    await page.waitForURL('**/sign-in');
    await page.getByLabel('Sign-in name').fill('head.of.lab');
    await page.getByLabel('Password').fill('four plain words in a row');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.waitForURL('**/today');
    for (const name of ['today', 'cases', 'outcomes', 'exchange', 'lab/schedule']) {
      await page.goto(`${lab.address}/${name}`);
      await shoot(page, `empty-${name.replace('/', '-')}`);
    }
  } finally {
    await lab.stop();
  }
});
