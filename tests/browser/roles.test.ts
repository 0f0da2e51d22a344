import { registerPatient } from './entering';
import { expect, type RoleName, test } from './lab-test';

const READING = [
  '/today',
  '/today/complications',
  '/today/unfinished',
  '/cases',
  '/outcomes',
  '/outcomes/early-recurrence',
  '/exchange',
  '/exchange/device-days',
  '/lab',
  '/lab/schedule',
];

/** Which role opens which page: 200, or 403 in words. A page that is not listed here has no business existing. */
const FORMS: readonly [path: string, roles: readonly RoleName[]][] = [
  ['/patients/new', ['coordinator', 'physician', 'director']],
  ['/cases/CASE/edit', ['physician', 'director']],
  ['/cases/CASE/visits/new', ['coordinator', 'physician', 'director']],
  ['/cases/CASE/complications/new', ['coordinator', 'physician', 'director']],
  ['/cases/CASE/readmissions/new', ['coordinator', 'physician', 'director']],
  ['/lab/schedule/new', ['director', 'administrator']],
  ['/lab/schedule/preview', ['director', 'administrator']],
];

for (const role of ['coordinator', 'physician', 'director', 'administrator'] as const) {
  test(`${role} opens what the role table lists, and nothing else`, async ({ page, signInAs, troubles }) => {
    await signInAs(page, role);
    for (const path of READING) expect((await page.goto(path))?.status(), path).toBe(200);
    await page.goto('/cases');
    const casePath = (await page.locator('tbody a[href^="/cases/"]').first().getAttribute('href')) ?? '';
    for (const part of ['', '/procedure', '/complications', '/follow-up', '/follow-up/burden', '/history']) {
      expect((await page.goto(`${casePath}${part}`))?.status(), part).toBe(200);
    }
    for (const [path, roles] of FORMS) {
      const asked = path.replace('/cases/CASE', casePath);
      const status = (await page.goto(asked))?.status();
      expect(status, `${role} ${path}`).toBe(roles.includes(role) ? 200 : 403);
      if (status === 403) await expect(page.getByRole('heading', { level: 1 })).toContainText('role');
    }
    expect((await page.goto('/cases/00000000-0000-4000-8000-000000000000'))?.status()).toBe(404);
    expect((await page.goto('/cases/not-an-id'))?.status()).toBe(404);
    // Refused and missing pages are what this test asks for: the browser reports each as a failed load.
    troubles.splice(0, troubles.length, ...troubles.filter((text) => !/status of 40[34]/.test(text)));
  });
}

test('a stranger is led to sign in and back to the page that was asked for', async ({
  troubles,
  page,
  signInFacts,
}) => {
  for (const path of [...READING, '/patients/new']) {
    await page.goto(path);
    expect(new URL(page.url()).pathname, path).toBe('/sign-in');
  }
  await page.goto('/cases?afType=paroxysmal');
  const { signInName, password } = signInFacts('director');
  await page.getByLabel('Sign-in name').fill(signInName);
  await page.getByLabel('Password').fill('not the password at all');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByText('do not belong together').first()).toBeVisible();
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForURL('**/cases?afType=paroxysmal');
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.waitForURL('**/sign-in**');
  await page.goto('/outcomes');
  expect(new URL(page.url()).pathname).toBe('/sign-in');
  // The wrong password was asked for: the browser reports its answer as a failed load.
  troubles.splice(0, troubles.length, ...troubles.filter((text) => !text.includes('status of 401')));
});

test('an entry sent under a role that may not store it is refused and stores nothing', async ({
  browser,
  page,
  signInAs,
}) => {
  await signInAs(page, 'physician');
  await page.goto('/patients/new');
  await page.getByLabel('Birth year').fill('1951');
  await page.getByRole('radio', { name: 'Female' }).check();
  const administrator = await browser.newContext();
  const other = await administrator.newPage();
  await signInAs(other, 'administrator');
  const session = (await administrator.cookies()).filter((cookie) => cookie.name.includes('session-token'));
  await page.context().addCookies(session);
  await page.getByRole('button', { name: 'Register the patient' }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'Your role may not store this' })).toBeVisible();
  await expect(page.getByLabel('Birth year')).toHaveValue('1951');
  await administrator.close();
});

test('writes from elsewhere are refused, other host names redirected, health always answers', async ({
  address,
  page,
  signInAs,
}) => {
  await signInAs(page, 'coordinator');
  await registerPatient(page, '1950');
  const { request } = page;
  const home = new URL(address);
  const post = (headers: Record<string, string>) =>
    request
      .post('/patients/new', { headers, data: '[]', failOnStatusCode: false })
      .then((answer) => answer.status());
  expect(await post({})).toBe(403);
  expect(await post({ origin: 'http://evil.example' })).toBe(403);
  expect(await post({ origin: home.origin, 'sec-fetch-site': 'cross-site' })).toBe(403);
  expect(await post({ origin: 'null' })).toBe(403);
  const elsewhere = await request.get('/cases', { headers: { host: '127.0.0.1:1' }, maxRedirects: 0 });
  expect(elsewhere.status()).toBe(307);
  expect(elsewhere.headers().location).toBe(`${home.origin}/cases`);
  const health = await request.get('/api/health', { headers: { host: 'anything.example' } });
  expect(health.status()).toBe(200);
  expect(await health.json()).toMatchObject({
    status: 'ok',
    database: 'reachable',
    schemaVersion: expect.stringMatching(/^\d{14}_/),
  });
});
