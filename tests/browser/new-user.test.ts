import { daysAgo, enterVisit, recordProcedure, registerPatient } from './entering';
import { expect, test } from './lab-test';

const QUESTION = '/outcomes?drugs=ignored';
const count = (text: string) => Number(text.replaceAll(/\D/g, ''));

interface Flow {
  readonly analysed: number;
  readonly events: number;
  readonly registered: number;
}

test('a new user signs in, enters a case by hand, and the curve moves by exactly that case', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  const flow = async (): Promise<Flow> => {
    await page.goto(QUESTION);
    const of = async (set: string) =>
      count(
        await page
          .locator(`aside td a[href$="set=${set}"]`)
          .evaluate((link) => link.firstChild?.textContent ?? ''),
      );
    return { registered: await of('registered'), analysed: await of('analysed'), events: await of('events') };
  };
  const before = await flow();

  const code = await registerPatient(page, '1958');
  const casePath = await recordProcedure(page, daysAgo(400));
  expect(await flow()).toEqual({ ...before, registered: before.registered + 1 });

  await enterVisit(page, casePath, daysAgo(400 - 180), 'Sinus rhythm, no atrial arrhythmia');
  expect(await flow()).toEqual({
    registered: before.registered + 1,
    analysed: before.analysed + 1,
    events: before.events,
  });

  await enterVisit(page, casePath, daysAgo(400 - 250), 'AF');
  expect(await flow()).toEqual({
    registered: before.registered + 1,
    analysed: before.analysed + 1,
    events: before.events + 1,
  });

  await page.locator('aside td a[href$="set=events"]').click();
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  const row = page.getByRole('row', { name: new RegExp(`^${code}/1`) });
  while ((await row.count()) === 0) {
    await page.goto((await page.getByRole('link', { name: 'Next page' }).getAttribute('href')) ?? '');
  }
  await expect(row).toContainText('250');
  await row.getByRole('link').click();
  await expect(page.getByRole('heading', { level: 1 })).toContainText(`Case ${code}/1`);
});

test('the 12-month value is the product of the steps of the cases behind it', async ({ page, signInAs }) => {
  await signInAs(page, 'director');
  await page.goto(QUESTION);
  const shown = await page
    .locator('aside a[href*="behind=twelve-months"]')
    .evaluate((link) => link.firstChild?.textContent ?? '');
  await page.locator('aside a[href*="behind=twelve-months"]').click();
  const times: { days: number; event: boolean }[] = [];
  for (;;) {
    await expect(page.locator('tbody tr').first()).toBeVisible();
    const cells = await page
      .locator('tbody tr')
      .evaluateAll((rows) =>
        rows.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent ?? '')),
      );
    for (const [, days = '', status = ''] of cells) {
      times.push({ days: count(days), event: !status.startsWith('Free') });
    }
    const next = page.getByRole('link', { name: 'Next page' });
    if ((await next.count()) === 0) break;
    await page.goto((await next.getAttribute('href')) ?? '');
  }
  let survival = 1;
  const days = [...new Set(times.filter((one) => one.event && one.days <= 365).map((one) => one.days))];
  for (const day of days) {
    const atRisk = times.filter((one) => one.days >= day).length;
    const events = times.filter((one) => one.days === day && one.event).length;
    survival *= 1 - events / atRisk;
  }
  expect(`${(survival * 100).toFixed(1)}`).toBe(shown.replaceAll(/[^\d.]/g, ''));
});

test('every count on Outcomes opens exactly that many cases', async ({ page, signInAs }) => {
  await signInAs(page, 'coordinator');
  for (const address of ['/outcomes', '/outcomes?by=intended-strategy&drugs=ignored']) {
    await page.goto(address);
    const links = await page.locator('main a[href*="/outcomes/cases?"]').evaluateAll((found) =>
      found.map((link) => ({
        href: link.getAttribute('href') ?? '',
        text: link.firstChild?.textContent ?? '',
      })),
    );
    const counts = new Map(
      links.filter(({ href }) => !href.includes('behind=')).map(({ href, text }) => [href, count(text)]),
    );
    expect(counts.size).toBeGreaterThan(20);
    for (const [href, expected] of counts) {
      const html = await (await page.request.get(href)).text();
      const told = /(No cases|to <!-- -->[\d,]+<!-- --> of <!-- -->([\d,]+)|of ([\d,]+) cases)/.exec(html);
      expect(told, href).not.toBeNull();
      expect(count(told?.[2] ?? told?.[3] ?? '0'), href).toBe(expected);
    }
  }
});
