import { expect, test } from './lab-test';

test('a visit due today is entered without a mouse', async ({ page, signInAs }) => {
  await signInAs(page, 'coordinator');
  let presses = 0;
  const press = async (key: string, times = 1) => {
    for (let i = 0; i < times; i += 1) await page.keyboard.press(key);
    presses += times;
  };
  const type = async (text: string) => {
    await page.keyboard.type(text);
    presses += text.length;
  };
  const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
  const tabTo = async (name: RegExp) => {
    for (let i = 0; i < 80; i += 1) {
      await press('Tab');
      const label = await page.evaluate(() => {
        const element = document.activeElement;
        if (!(element instanceof HTMLElement)) return '';
        const labels = 'labels' in element && element.labels instanceof NodeList ? [...element.labels] : [];
        return [...labels.map((one) => one.textContent ?? ''), element.textContent ?? ''].join(' ').trim();
      });
      expect(label, 'the focus is never lost').not.toBe('');
      if (name.test(label)) return;
    }
    throw new Error(`no stop called ${name}`);
  };
  await page.goto('/today?show=in-window');
  await tabTo(/^Enter/);
  await press('Enter');
  await page.waitForURL('**/visits/new?slot=*');
  presses = 0;
  await tabTo(/Visit day/);
  await tabTo(/Add a recording/);
  await press('Enter');
  await expect(page.getByRole('group', { name: 'Recording 1' })).toBeVisible();
  await tabTo(/Rhythm found/);
  await type('Sinus');
  await tabTo(/Drugs reviewed/);
  await press('Space');
  await press('Enter');
  await page.waitForURL('**/follow-up');
  expect(await focused()).not.toBe('');
  console.log(`A visit with one ECG: ${presses} key presses from the open form to the saved entry.`);
});

test('the key "/" jumps to the search, which finds by the beginning of a code', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'coordinator');
  await page.goto('/cases');
  const code =
    ((await page.locator('tbody a[href^="/cases/"]').first().textContent()) ?? '').split('/')[0] ?? '';
  // The key works as soon as the page's scripts have taken over.
  await expect(async () => {
    await page.keyboard.press('/');
    await expect(page.getByLabel('Find a patient')).toBeFocused({ timeout: 500 });
  }).toPass();
  await page.getByLabel('Find a patient').fill('');
  await page.keyboard.type(code.slice(0, 5).toLowerCase());
  await page.keyboard.press('Enter');
  await expect(page.getByRole('search').getByRole('link', { name: code })).toBeVisible();
  expect(page.url()).not.toContain(code.slice(0, 5));
});
