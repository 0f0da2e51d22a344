import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url)).replace(/[\\/]$/, '');

/** The statistics tests alone, for the copy of the repository in which Stryker changes the library. */
export default defineConfig({
  resolve: { alias: { '@': root } },
  test: {
    root,
    include: ['tests/statistics/**/*.test.ts'],
    setupFiles: ['tests/mutation/repeatable.ts'],
    env: { TZ: 'Asia/Kathmandu' },
    testTimeout: 60_000,
  },
});
