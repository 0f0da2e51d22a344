import { defineConfig } from '@playwright/test';

const isRoot = process.getuid?.() === 0;

/** Journeys in a real browser against a demo lab of their own, started as a person starts it. */
export default defineConfig({
  testDir: 'tests/browser',
  globalSetup: './tests/browser/start-lab.ts',
  // One lab, one browser: journeys write, and the machine may have two cores.
  workers: 1,
  fullyParallel: false,
  timeout: 120_000,
  reporter: 'list',
  outputDir: 'test-results',
  use: {
    viewport: { width: 1440, height: 900 },
    locale: 'en-GB',
    timezoneId: 'Asia/Kathmandu',
    trace: 'off',
    launchOptions: {
      ...(process.env.CHROMIUM_PATH ? { executablePath: process.env.CHROMIUM_PATH } : {}),
      args: [
        ...(isRoot ? ['--no-sandbox'] : []),
        '--disable-dev-shm-usage',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
      ],
    },
  },
});
