import { defineConfig } from '@playwright/test';
import tests from '../../playwright.config';

/** The same browser and the same lab as the tests, for taking pictures instead of checking. */
export default defineConfig({
  ...tests,
  testDir: '.',
  testMatch: ['pictures.ts', 'pictures-lesions.ts'],
  globalSetup: './start-lab.ts',
  timeout: 400_000,
});
