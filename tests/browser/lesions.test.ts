import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { daysAgo, recordProcedure, registerPatient } from './entering';
import { expect, test } from './lab-test';

/** A person who types a form they know: about 280 keys a minute. */
const KEYS_PER_SECOND = 4.7;

async function openEditor(page: Page): Promise<string> {
  await registerPatient(page, '1958');
  const casePath = await recordProcedure(page, daysAgo(40));
  await page.goto(`${casePath}/lesions`);
  await expect(page.getByText('No ring or line is recorded yet').first()).toBeVisible();
  await page.getByRole('link', { name: 'Record the lesion set' }).click();
  await page.waitForURL('**/lesions/edit');
  return casePath;
}

const SIXTEEN = [
  ...['1.2', '.9', '.92', '1.1', '1.6', '1.3', '.8', '1.45'],
  ...['2', '1.1', '.7', '.85', '1.9', '1.25', '1.5', '1.05'],
];
const AFTER = [
  ...['.08', '.07', '.21', '.05', '.09', '.06', '.08', '.1'],
  ...['.15', '.04', '.06', '.03', '.08', '.09', '.07', '.05'],
];

test('a lesion set of sixteen segments and a line is typed by keyboard alone', async ({ page, signInAs }) => {
  await signInAs(page, 'physician');
  const casePath = await openEditor(page);
  let keys = 0;
  const press = async (key: string, times = 1) => {
    for (let i = 0; i < times; i += 1) await page.keyboard.press(key);
    keys += times;
  };
  const type = async (text: string) => {
    await page.keyboard.type(text);
    keys += text.length;
  };
  await expect(page.getByRole('button', { name: 'Save the lesion set' })).toBeEnabled();
  await page.getByRole('button', { name: 'Begin in the table' }).focus();
  await press('Enter');
  const cell = (name: string) => page.getByLabel(name, { exact: true });
  await expect(cell('Left pair, whole ring, state')).toBeFocused();

  // Both rings as planned, there and back.
  await type('d');
  await press('ArrowRight');
  await type('12');
  await press('ArrowRight', 3);
  await type('3');
  await press('ArrowRight');
  await type('60');
  await press('ArrowRight');
  await type('25');
  await press('ArrowRight');
  await type('y');
  await press('ArrowRight');
  await type('y');
  await press('PageDown');
  await type('y');
  await press('ArrowLeft');
  await type('y');
  await press('ArrowLeft');
  await type('25');
  await press('ArrowLeft');
  await type('60');
  await press('ArrowLeft');
  await type('3');
  await press('ArrowLeft', 3);
  await type('14');
  await press('ArrowLeft');
  await type('d');
  await expect(cell('Right pair, inferior, longest application')).toHaveValue('25');
  await expect(cell('Left pair, anterior carina, from the ostium')).toHaveValue('12');

  // Amplitudes down one column and up the other.
  await press('PageUp');
  await press('ArrowRight', 2);
  await press('Enter');
  for (const [index, amplitude] of SIXTEEN.entries()) {
    await type(amplitude);
    if (index < 15) await press('Enter', index === 7 ? 2 : 1);
  }
  await press('ArrowRight');
  for (const [index, amplitude] of [...AFTER].reverse().entries()) {
    await type(amplitude);
    if (index < 15) await press('ArrowUp', index === 7 ? 2 : 1);
  }
  // "... except": one segment lay farther out; then the roof line with its block.
  await press('ArrowLeft', 2);
  await type('16');
  await press('PageDown', 2);
  await expect(cell('Roof line, state')).toBeFocused();
  await type('d');
  await press('ArrowRight', 9);
  await type('b');
  await press('ArrowRight');
  await type('p');

  // Out of the table, and the acute endpoint.
  await press('Escape');
  await expect(page.getByLabel('Entrance block')).toBeFocused();
  await type('In e');
  await press('Tab', 2);
  await type('20');
  await press('Tab');
  await type('A');
  await press('Tab');
  await type('N');
  await press('Tab', 2);
  await expect(page.getByRole('button', { name: 'Save the lesion set' })).toBeFocused();
  await press('Enter');
  await page.waitForURL(`**${casePath}/lesions`);
  const seconds = Math.round(keys / KEYS_PER_SECOND);
  console.log(
    `Sixteen segments, a line and the endpoint: ${keys} key presses, about ${seconds} s of typing.`,
  );
  expect(seconds).toBeLessThan(75);

  await expect(
    page.getByText('Left pair: 7 of 8 segments closed, 7 abated. Gap: anterior carina (still open).'),
  ).toBeVisible();
  await expect(page.getByText('Right pair: all 8 segments closed, 8 abated.')).toBeVisible();
  await expect(page.getByText('Block in both directions: roof line.')).toBeVisible();
  await expect(page.getByRole('row', { name: /^Left pair, superior / })).toContainText('16.0');
  await expect(
    page.getByText('The operator wrote wide encircling; the lesions show wide with lines.'),
  ).toBeVisible();

  // The disagreement is settled by a person; both opinions stay.
  await page.getByRole('link', { name: 'Settle it' }).click();
  await page.getByLabel('Strategy as settled').selectOption({ label: 'Wide with lines' });
  await page.getByLabel('Reason for the change').selectOption({ label: 'Information came late' });
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  await page.waitForURL(`**${casePath}/lesions`);
  await expect(page.getByText(/Settled by a person as wide with lines; both are kept\./)).toBeVisible();
});

test('the same by finger on a tablet: choose a segment, fill it, fill the rest of its ring', async ({
  browser,
  signInAs,
}) => {
  const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true });
  const page = await context.newPage();
  await signInAs(page, 'physician');
  const casePath = await openEditor(page);
  const segment = (name: RegExp) => page.getByRole('button', { name });
  for (const button of await page.locator('fieldset[class*="buttons"] button').all()) {
    const box = await button.boundingBox();
    expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(24);
  }
  await segment(/^Left pair, superior:/).tap();
  const panel = page.getByRole('region', { name: 'Left pair, superior' });
  await panel.getByRole('button', { name: 'state: Done' }).tap();
  await panel.getByLabel('From the ostium, mm').fill('11.5');
  await panel.getByLabel('Before, mV').fill('0.8');
  await panel.getByLabel('After, mV').fill('0.08');
  await panel.getByRole('button', { name: 'Fill the rest of the ring like this' }).tap();
  await expect(page.getByText('7 segments filled.')).toBeVisible();
  await expect(segment(/^Left pair, inferior: abated/)).toBeVisible();
  await segment(/^Left pair, anterior carina:/).tap();
  const carina = page.getByRole('region', { name: 'Left pair, anterior carina' });
  await carina.getByLabel('After, mV').fill('0.2');
  await expect(segment(/^Left pair, anterior carina: still open/)).toBeVisible();
  await segment(/^Mitral isthmus line:/).tap();
  const mitral = page.getByRole('region', { name: 'Mitral isthmus line' });
  await mitral.getByRole('button', { name: 'state: Not done' }).tap();
  await mitral
    .getByRole('group', { name: 'Why not' })
    .getByRole('button', { name: /Not reached/ })
    .tap();
  await expect(mitral.getByRole('button', { name: /Common ostium/ })).toHaveCount(0);
  await page.getByRole('button', { name: 'Save the lesion set' }).tap();
  await page.waitForURL(`**${casePath}/lesions`);
  await expect(page.getByText(/^Left pair: 7 of 8 segments closed/)).toBeVisible();
  const tooWide = await page.evaluate(
    () => document.documentElement.scrollWidth > document.documentElement.clientWidth,
  );
  expect(tooWide).toBe(false);
  await context.close();
});

test('what is wrong is told at once, in the table and above it, and nothing typed is lost', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  await openEditor(page);
  const cell = (name: string) => page.getByLabel(name, { exact: true });
  await cell('Left pair, superior, before').fill('80');
  await cell('Left pair, inferior, from the ostium').fill('12,5');
  await cell('Right pair, superior, state').selectOption({ label: 'Not applicable' });
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  const summary = page.getByRole('region', { name: /^Not saved: 3 things have to be mended/ });
  await expect(summary).toBeFocused();
  await summary.getByRole('link', { name: /If microvolt are meant, write 0\.08/ }).click();
  await expect(cell('Left pair, superior, before')).toBeFocused();
  await expect(cell('Left pair, superior, before')).toHaveValue('80');
  await expect(cell('Left pair, superior, before')).toHaveAttribute('aria-invalid', 'true');
  await expect(page.getByText('Write a point instead: 12.5.').last()).toBeVisible();
});

test('a file of single applications fills the set; a wrong one says what to mend, line by line', async ({
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  const casePath = await openEditor(page);
  const cell = (name: string) => page.getByLabel(name, { exact: true });
  await expect(page.getByRole('button', { name: 'Save the lesion set' })).toBeEnabled();
  await page.getByText('Fill the set from a file of single applications').click();
  const choose = (text: string) =>
    page.getByLabel('CSV, up to 400 kB').setInputFiles({
      name: 'applications.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(text),
    });
  const heads = 'structure,segment,seconds,temperature_c,amplitude_before_mv,amplitude_after_mv';
  await choose(`${heads}\nleft-pair,carina,20,41,0.8,0.08\nleft-pair,superior,20 s,41,0.8,0.08\n`);
  await expect(page.getByText('Line 2, segment: is no segment of this ring or line.')).toBeVisible();
  await expect(page.getByText('Line 3, seconds: is not a number.')).toBeVisible();
  const good = ['left-pair,superior,20,41,0.8,0.3', 'left-pair,superior,74,47,,0.07', 'roof,,30,40,,'];
  await choose(`${heads}\n${good.join('\n')}\n`);
  await expect(
    page.getByText(/^3 applications, 2\.1 min in all, the longest 74 s; 2 segments and lines filled/),
  ).toBeVisible();
  await expect(page.getByText('Application 2, Left pair, superior: 47 °C (more than 45 °C).')).toBeVisible();
  await expect(cell('Left pair, superior, seconds in all')).toHaveValue('94');
  await expect(cell('Left pair, superior, after')).toHaveValue('0.07');
  await expect(cell('Roof line, state')).toHaveValue('done');
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  await page.waitForURL(`**${casePath}/lesions`);
  await expect(page.getByText('3 applications, 2.1 min in all, the longest 74 s.')).toBeVisible();
  await expect(
    page.getByText('Left pair, superior: one application of 74 s (longer than 60 s).'),
  ).toBeVisible();
});

test('what is typed is kept as a draft, and taken up again with its rings', async ({ page, signInAs }) => {
  await signInAs(page, 'physician');
  const casePath = await openEditor(page);
  await page.getByLabel('Left pair, whole ring, from the ostium', { exact: true }).fill('12');
  await page.getByLabel('Left pair, superior, before', { exact: true }).fill('0.8');
  await expect(page.getByRole('status').filter({ hasText: 'Draft kept at' })).toBeVisible();
  await page.goto(`${casePath}/lesions/edit`);
  await page.getByRole('button', { name: 'Take it up' }).click();
  await expect(page.getByLabel('Left pair, inferior, from the ostium', { exact: true })).toHaveValue('12');
  await expect(page.getByLabel('Left pair, whole ring, from the ostium', { exact: true })).toHaveValue('12');
  await expect(page.getByLabel('Left pair, superior, before', { exact: true })).toHaveValue('0.8');
  // A value of the whole ring needs no other cell to be left for: saving takes it along.
  await page.getByLabel('Left pair, whole ring, after', { exact: true }).fill('.07');
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  await page.waitForURL(`**${casePath}/lesions`);
  await expect(page.getByRole('row', { name: /^Left pair, postero-superior / })).toContainText('0.07');
});

test('two people change one set: the second sees the cells that differ, by name', async ({
  browser,
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  const casePath = await openEditor(page);
  const otherContext = await browser.newContext();
  const other = await otherContext.newPage();
  await signInAs(other, 'director');
  await other.goto(`${casePath}/lesions/edit`);
  for (const [who, after] of [
    [other, '0.05'],
    [page, '0.2'],
  ] as const) {
    await who.getByLabel('Left pair, superior, after', { exact: true }).fill(after);
    await who.getByRole('button', { name: 'Save the lesion set' }).click();
    if (who === other) await who.waitForURL(`**${casePath}/lesions`);
  }
  const panel = page.getByRole('region', { name: /somebody else changed this entry/ });
  await expect(panel.getByRole('row', { name: /Left pair, superior, after/ })).toContainText('0.05');
  await expect(panel.getByRole('row')).toHaveCount(2);
  await panel.getByRole('radio', { name: /keep mine/ }).check();
  await panel.getByRole('button', { name: 'Save with these choices' }).click();
  // By now a set is stored, so that this change needs its reason.
  await page.getByLabel('Reason for the change').selectOption({ label: 'Typing error' });
  await page.getByRole('button', { name: 'Save the lesion set' }).click();
  await page.waitForURL(`**${casePath}/lesions`);
  await expect(page.getByRole('row', { name: /^Left pair, superior / })).toContainText('0.20');
  await otherContext.close();
});

for (const [width, scheme] of [
  [1440, 'light'],
  [820, 'dark'],
  [360, 'light'],
] as const) {
  test(`the pages of a lesion set have no accessibility violation at ${width} px, ${scheme}`, async ({
    page,
    signInAs,
  }) => {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    await signInAs(page, 'physician');
    await page.goto('/cases?strategy=wide-with-lines');
    const casePath = (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
    const found: string[] = [];
    // At 360 px the save bar lies over a part of the page, which that rule takes for a small target.
    for (const path of ['lesions', 'lesions?show=open', 'lesions/edit']) {
      await page.goto(`${casePath}/${path}`);
      if (path.endsWith('edit')) await page.getByRole('button', { name: /^Left pair, superior:/ }).click();
      const { violations } = await new AxeBuilder({ page })
        .options({ rules: { 'target-size': { enabled: width > 400 && path.endsWith('edit') } } })
        .analyze();
      for (const { id, nodes } of violations)
        found.push(`${path}: ${id} ${nodes.map((node) => node.target.join(' ')).join('; ')}`);
      if (
        await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth)
      ) {
        found.push(`${path}: scrolls sideways`);
      }
    }
    expect(found).toEqual([]);
  });
}

test('who may not write a lesion set may read it, and finds no way to change it', async ({
  page,
  signInAs,
  troubles,
}) => {
  await signInAs(page, 'coordinator');
  await page.goto('/cases?strategy=wide-with-lines');
  const casePath = (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
  await page.goto(`${casePath}/lesions`);
  await expect(page.getByRole('img', { name: /^Lesion set:/ })).toBeVisible();
  await expect(page.getByRole('link', { name: 'Change', exact: true })).toHaveCount(0);
  expect((await page.goto(`${casePath}/lesions/edit`))?.status()).toBe(403);
  troubles.splice(0, troubles.length, ...troubles.filter((text) => !text.includes('status of 403')));
});
