import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('.', import.meta.url));
const shared = {
  resolve: { alias: { '@': root.replace(/\/$/, '') } },
  // `server-only` throws unless the react-server condition is set.
  ssr: {
    resolve: {
      conditions: ['react-server', 'node', 'import', 'default'],
      externalConditions: ['react-server', 'node', 'import', 'default'],
    },
  },
};

export default defineConfig({
  test: {
    projects: [
      {
        ...shared,
        test: {
          name: 'unit',
          include: [
            'tests/{statistics,registry,analysis,exchange,runtime,access,architecture,seed,launch}/**/*.test.ts',
            'tests/components/**/*.test.tsx',
          ],
          env: { TZ: 'Asia/Kathmandu' },
          testTimeout: 60_000,
        },
      },
      {
        ...shared,
        test: {
          name: 'database',
          include: ['tests/{records,faults}/**/*.test.ts'],
          globalSetup: ['tests/support/database-server.ts'],
          env: { TZ: 'Asia/Kathmandu' },
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: 2,
        },
      },
    ],
  },
});
