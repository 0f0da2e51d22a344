import { test as base, expect, type Page } from '@playwright/test';
import { readSignIns, type SignIn } from './running-lab';

export type RoleName = 'coordinator' | 'physician' | 'director' | 'administrator';

interface LabFixtures {
  /** Where the lab is. */
  readonly address: string;
  /** Console errors and policy violations of every page of the test: any of them fails it, unless taken out here. */
  readonly troubles: string[];
  readonly signInFacts: (role: RoleName) => SignIn;
  readonly signInAs: (page: Page, role: RoleName) => Promise<void>;
}

const given = (name: string): string => {
  const value = process.env[name];
  if (value === undefined) throw new Error(`${name} is not set: the lab was not started.`);
  return value;
};

export const test = base.extend<LabFixtures>({
  address: async ({ browserName: _any }, use) => {
    await use(given('TEST_LAB_ADDRESS'));
  },
  baseURL: async ({ browserName: _any }, use) => {
    await use(given('TEST_LAB_ADDRESS'));
  },
  troubles: [
    async ({ context }, use) => {
      const troubles: string[] = [];
      context.on('console', (message) => {
        if (message.type() === 'error') troubles.push(`${message.text()} (${message.location().url})`);
      });
      context.on('weberror', (error) => troubles.push(String(error.error())));
      await use(troubles);
      expect(troubles, 'console errors').toEqual([]);
    },
    { auto: true },
  ],
  signInFacts: async ({ browserName: _any }, use) => {
    await use((role) => {
      const account = readSignIns(given('TEST_LAB_DATA')).find((one) => one.role === role);
      if (!account) throw new Error(`no demo account for ${role}`);
      return account;
    });
  },
  signInAs: async ({ signInFacts }, use) => {
    await use(async (page, role) => {
      const { signInName, password } = signInFacts(role);
      await page.goto(`${given('TEST_LAB_ADDRESS')}/sign-in`);
      await page.getByLabel('Sign-in name').fill(signInName);
      await page.getByLabel('Password').fill(password);
      await page.getByRole('button', { name: 'Sign in' }).click();
      await page.waitForURL('**/today');
    });
  },
});

export { expect };
