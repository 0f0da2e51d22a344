import AxeBuilder from '@axe-core/playwright';
import type { Browser, Page } from '@playwright/test';
import { daysAgo, recordProcedure, registerPatient } from './entering';
import { expect, type RoleName, test } from './lab-test';

type SignInAs = (page: Page, role: RoleName) => Promise<void>;

/** A case of so many days ago, and a second person beside the first. */
async function caseAndColleague(page: Page, browser: Browser, signInAs: SignInAs, days = 40) {
  await signInAs(page, 'physician');
  await registerPatient(page, '1955');
  const casePath = await recordProcedure(page, daysAgo(days));
  const colleague = await (await browser.newContext()).newPage();
  await signInAs(colleague, 'coordinator');
  return { list: `${casePath}/complications`, casePath, physician: page, coordinator: colleague };
}

async function report(page: Page, list: string, complication: string, daysBack: number) {
  await page.goto(`${list}/new`);
  await page.getByLabel('Complication needed').selectOption({ label: complication });
  await page.getByLabel('Onset needed').fill(daysAgo(daysBack));
  await page.getByRole('button', { name: 'Report the complication' }).click();
  await page.waitForURL(`**${list}`);
}

const openFirst = async (page: Page, list: string) => {
  await page.goto(list);
  await page.getByRole('link', { name: /^Open/ }).first().click();
  await page.waitForURL(`**${list}/*`);
};

test('a coordinator reports, a physician adjudicates, both states stay', async ({
  page,
  browser,
  signInAs,
}) => {
  const { list, casePath, physician, coordinator } = await caseAndColleague(page, browser, signInAs);
  await coordinator.goto(`${list}/new`);
  await coordinator.getByLabel('Complication needed').selectOption({ label: 'Groin haematoma' });
  await coordinator.getByLabel('Onset needed').fill(daysAgo(41));
  await coordinator.getByRole('button', { name: 'Report the complication' }).click();
  await expect(coordinator.getByText(/is before the procedure on/).first()).toBeVisible();
  await coordinator.getByLabel('Onset needed').fill(daysAgo(39));
  await coordinator.getByLabel('Onset needed').blur();
  await expect(coordinator.getByText('Day 1 after the procedure.')).toBeVisible();
  await expect(coordinator.getByText('By the rule: Minor')).toBeVisible();
  await coordinator.getByRole('checkbox', { name: 'Transfusion' }).check();
  await expect(coordinator.getByText('By the rule: Major: transfusion.')).toBeVisible();
  await coordinator.getByLabel('Treatment').selectOption({ label: 'Transfusion' });
  await coordinator.getByRole('button', { name: 'Report the complication' }).click();
  await coordinator.waitForURL(`**${list}`);
  const row = (who: Page) => who.getByRole('row', { name: /Open/ }).filter({ hasText: 'day 1' });
  await expect(row(coordinator)).toContainText('Groin haematoma, major');
  await expect(row(coordinator)).toContainText('to adjudicate');
  await openFirst(coordinator, list);
  await expect(coordinator.getByRole('form', { name: 'Adjudication' })).toHaveCount(0);

  await physician.goto('/today');
  await physician
    .getByRole('link', { name: /complications to adjudicate/ })
    .first()
    .click();
  await physician.waitForURL('**/today/complications#to-adjudicate');
  await physician.locator(`a[href^="${list}/"]`).first().click();
  await physician.waitForURL(`**${list}/*`);
  await physician.getByRole('radio', { name: 'Reclassified' }).check();
  await physician.getByRole('button', { name: 'Save the verdict' }).click();
  await expect(physician.getByText(/nothing below differs from the report/).first()).toBeVisible();
  await physician.getByLabel('Complication, as adjudicated').selectOption({ label: 'Pseudo-aneurysm' });
  await physician.getByRole('button', { name: 'Save the verdict' }).click();
  await physician.waitForURL(`**${list}`);
  await expect(row(physician)).toContainText('Pseudo-aneurysm, major');
  await expect(row(physician)).toContainText('Reported: Groin haematoma, major');
  await physician.goto(`${casePath}/history`);
  const entry = physician.getByRole('row', { name: /Verdict: Reclassified/ });
  await expect(entry).toContainText('Complication, as adjudicated: Pseudo-aneurysm');
  await expect(entry).toContainText('P-01');

  await coordinator.goto(list);
  await openFirst(coordinator, list);
  await coordinator.getByRole('link', { name: 'Change the report' }).click();
  await coordinator.waitForURL('**/change');
  await expect(coordinator.getByRole('button', { name: 'Void this entry' })).toHaveCount(0);
  await coordinator.getByLabel('Complication needed').selectOption({ label: 'TIA' });
  await coordinator.getByLabel('Reason for the change').selectOption({ label: 'Typing error' });
  await coordinator.getByRole('button', { name: 'Save the change' }).click();
  await expect(coordinator.getByText(/was adjudicated as reported and stays so/).first()).toBeVisible();
  await coordinator.context().close();
});

test('nobody adjudicates their own report, and is told so before', async ({ page, browser, signInAs }) => {
  const { list, coordinator } = await caseAndColleague(page, browser, signInAs);
  await report(page, list, 'TIA', 38);
  await openFirst(page, list);
  await expect(
    page.getByText('You reported this complication, so somebody else has to adjudicate it'),
  ).toBeVisible();
  await expect(page.getByRole('button', { name: 'Save the verdict' })).toHaveCount(0);
  await page.goto('/today/complications');
  await expect(page.locator('tr', { has: page.locator(`a[href="${list}"]`) }).first()).toContainText(
    'you: somebody else has to adjudicate',
  );
  await coordinator.context().close();
});

test('a verdict on a report that changed meanwhile is held back and shows both', async ({
  page,
  browser,
  signInAs,
}) => {
  const { list, physician, coordinator } = await caseAndColleague(page, browser, signInAs);
  await report(coordinator, list, 'Groin haematoma', 38);
  await openFirst(physician, list);
  const address = physician.url();
  await coordinator.goto(`${address}/change`);
  const second = await coordinator.context().newPage();
  await second.goto(`${address}/change`);
  const change = async (who: Page, harm: string) => {
    await who.getByRole('checkbox', { name: harm }).check();
    await who.getByLabel('Reason for the change').selectOption({ label: 'Information came late' });
    await who.getByRole('button', { name: 'Save the change' }).click();
  };
  await change(coordinator, 'Transfusion');
  await coordinator.waitForURL(`**${list}`);
  await change(second, 'Readmission');
  const conflict = second.getByRole('region', { name: /somebody else changed this entry/ });
  await expect(conflict.getByRole('row', { name: /Led to: Transfusion/ })).toBeVisible();
  await expect(conflict.getByRole('row', { name: /Led to: Readmission/ })).toBeVisible();
  await conflict
    .getByRole('row', { name: /Led to: Transfusion/ })
    .getByRole('radio', { name: /take stored/ })
    .check();
  await conflict
    .getByRole('row', { name: /Led to: Readmission/ })
    .getByRole('radio', { name: /keep mine/ })
    .check();
  await conflict.getByRole('button', { name: 'Save with these choices' }).click();
  await second.waitForURL(`**${list}`);
  await expect(second.getByText('Led to: Readmission, transfusion')).toBeVisible();

  await physician.getByRole('radio', { name: 'Confirmed' }).check();
  await physician.getByRole('button', { name: 'Save the verdict' }).click();
  const held = physician.getByRole('region', { name: /somebody else changed this entry/ });
  await expect(held.getByRole('row', { name: /What was reported/ })).toContainText('minor');
  await expect(held.getByRole('row', { name: /What was reported/ })).toContainText(
    'major, readmission, transfusion',
  );
  await held
    .getByRole('row', { name: /What was reported/ })
    .getByRole('radio', { name: /take stored/ })
    .check();
  await held
    .getByRole('row', { name: /Verdict/ })
    .getByRole('radio', { name: /keep mine/ })
    .check();
  await held.getByRole('button', { name: 'Save with these choices' }).click();
  await physician.waitForURL(`**${list}`);
  await expect(physician.getByText('confirmed by P-01')).toBeVisible();
  await coordinator.context().close();
});

test('a complication is reported and a verdict given without a mouse', async ({
  page,
  browser,
  signInAs,
}) => {
  const { list, physician, coordinator } = await caseAndColleague(page, browser, signInAs);
  const labelled = (who: Page) =>
    who.evaluate(() => {
      const element = document.activeElement;
      if (!(element instanceof HTMLElement)) return '';
      const labels = 'labels' in element && element.labels instanceof NodeList ? [...element.labels] : [];
      return [...labels.map((one) => one.textContent ?? ''), element.textContent ?? ''].join(' ').trim();
    });
  const tabTo = async (who: Page, name: RegExp) => {
    for (let i = 0; i < 60; i += 1) {
      await who.keyboard.press('Tab');
      if (name.test(await labelled(who))) return;
    }
    throw new Error(`no stop called ${name}`);
  };
  await coordinator.goto(`${list}/new`);
  await expect(coordinator.getByRole('button', { name: 'Report the complication' })).toBeEnabled();
  await tabTo(coordinator, /^Complication needed/);
  await coordinator.keyboard.type('Peric');
  await tabTo(coordinator, /^Onset needed/);
  await coordinator.keyboard.type(daysAgo(35));
  await tabTo(coordinator, /^Readmission$/);
  await coordinator.keyboard.press('Space');
  await coordinator.keyboard.press('Enter');
  await coordinator.waitForURL(`**${list}`);
  await expect(coordinator.getByRole('row', { name: /Pericarditis, major/ })).toBeVisible();
  await openFirst(physician, list);
  await expect(physician.getByRole('button', { name: 'Save the verdict' })).toBeEnabled();
  await tabTo(physician, /^Confirmed$/);
  await physician.keyboard.press('Space');
  await physician.keyboard.press('Enter');
  await physician.waitForURL(`**${list}`);
  await expect(physician.getByText('confirmed by P-01')).toBeVisible();
  await coordinator.context().close();
});

test('readmissions are flagged within 30 days, and a wrong entry becomes void', async ({
  page,
  browser,
  signInAs,
}) => {
  const { list, casePath, coordinator } = await caseAndColleague(page, browser, signInAs, 100);
  await coordinator.goto(`${casePath}/readmissions/new`);
  await coordinator.getByLabel('Admitted on').fill(daysAgo(70));
  await coordinator.getByLabel('Cause of the readmission').selectOption({ label: 'Arrhythmia' });
  await coordinator.getByRole('button', { name: 'Save the readmission' }).click();
  await coordinator.waitForURL(`**${list}`);
  const row = coordinator.getByRole('row', { name: new RegExp(daysAgo(70)) });
  await expect(row).toContainText('within 30 days');
  await expect(row).toContainText('30 days after the procedure');
  await row.getByRole('link', { name: /^Change/ }).click();
  await coordinator.waitForURL('**/readmissions/*');
  await coordinator.getByText('Should this entry never have been made?').click();
  await coordinator.getByLabel('Why the entry is void').selectOption({ label: 'Entered twice' });
  await coordinator.getByRole('button', { name: 'Void this entry' }).click();
  await coordinator.waitForURL(`**${list}`);
  await expect(row).toContainText('void, counts nowhere: entered twice');
  const margin = coordinator.getByRole('complementary', { name: 'Margin notes' });
  await expect(margin).toContainText('Not safety-complete');
  await margin.getByRole('link', { name: 'enter the check of day 90' }).click();
  await coordinator.waitForURL('**/visits/new?slot=day-90');
  await coordinator.getByLabel('Visit day').fill(daysAgo(8));
  await coordinator.getByRole('button', { name: 'Save the visit' }).click();
  await coordinator.waitForURL('**/follow-up');
  await expect(margin).toContainText('Safety-complete');
  await expect(margin).toContainText(`missed; made good on ${daysAgo(8)}`);
  await coordinator.context().close();
});

for (const [width, scheme] of [
  [1440, 'light'],
  [820, 'dark'],
  [360, 'light'],
] as const) {
  test(`its pages have no accessibility violation at ${width} px, ${scheme}`, async ({
    page,
    browser,
    signInAs,
  }) => {
    const { list, casePath, physician, coordinator } = await caseAndColleague(page, browser, signInAs);
    await report(coordinator, list, 'Groin haematoma', 38);
    await physician.setViewportSize({ width, height: 900 });
    await physician.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    await openFirst(physician, list);
    const one = new URL(physician.url()).pathname;
    const found: string[] = [];
    const check = async (name: string) => {
      const { violations } = await new AxeBuilder({ page: physician }).analyze();
      for (const { id, nodes } of violations) {
        found.push(`${name}: ${id} (${nodes.map((node) => node.target.join(' ')).join('; ')})`);
      }
      const tooWide = await physician.evaluate(
        () => document.documentElement.scrollWidth > document.documentElement.clientWidth,
      );
      if (tooWide) found.push(`${name}: the page scrolls sideways`);
    };
    for (const path of [
      list,
      `${list}/new`,
      `${one}/change`,
      `${casePath}/readmissions/new`,
      '/today/complications',
      '/today',
      one,
    ]) {
      await physician.goto(path);
      await check(path);
    }
    await physician.getByRole('radio', { name: 'Reclassified' }).check();
    await physician.getByRole('button', { name: 'Save the verdict' }).click();
    await expect(physician.getByText(/nothing below differs/).first()).toBeVisible();
    await check('the verdict with findings');
    expect(found).toEqual([]);
    await coordinator.context().close();
  });
}
