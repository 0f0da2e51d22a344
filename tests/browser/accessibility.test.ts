import AxeBuilder from '@axe-core/playwright';
import { expect, test } from './lab-test';

const PAGES = [
  '/today',
  '/cases',
  '/cases?afType=long-standing-persistent&operator=OP-9',
  '/patients/new',
  '/cases/CASE',
  '/cases/CASE/complications',
  '/cases/CASE/complications/new',
  '/cases/CASE/follow-up',
  '/cases/CASE/follow-up/burden',
  '/cases/CASE/history',
  '/cases/CASE/edit',
  '/cases/CASE/visits/new',
  '/outcomes',
  '/outcomes?by=intended-strategy&drugs=ignored',
  '/outcomes?blanking=abc',
  '/outcomes/early-recurrence',
  '/outcomes/early-recurrence/cases?set=found',
  '/exchange',
  '/exchange/device-days',
  '/lab',
  '/lab/schedule',
  '/lab/schedule/new',
  '/lab/schedule/preview',
];

for (const [width, scheme] of [
  [1440, 'light'],
  [820, 'dark'],
  [360, 'light'],
] as const) {
  test(`no page has an accessibility violation or scrolls sideways at ${width} px, ${scheme}`, async ({
    page,
    signInAs,
  }) => {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    await page.goto('/sign-in');
    const found: string[] = [];
    const check = async (name: string) => {
      const { violations } = await new AxeBuilder({ page }).analyze();
      for (const violation of violations) {
        found.push(
          `${name}: ${violation.id} (${violation.nodes.map((node) => node.target.join(' ')).join('; ')})`,
        );
      }
      const tooWide = await page.evaluate(
        () => document.documentElement.scrollWidth > document.documentElement.clientWidth,
      );
      if (tooWide) found.push(`${name}: the page scrolls sideways`);
    };
    await check('/sign-in');
    await signInAs(page, 'director');
    await page.goto('/cases');
    const casePath = (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
    for (const path of PAGES) {
      await page.goto(path.replace('/cases/CASE', casePath));
      await check(path);
    }
    expect(found).toEqual([]);
  });
}

test('on paper there is the page without its navigation', async ({ page, signInAs }) => {
  await signInAs(page, 'director');
  await page.goto('/outcomes?by=intended-strategy');
  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('navigation', { name: 'Main' })).toBeHidden();
  await expect(page.getByRole('img').first()).toBeVisible();
});
