import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('.', import.meta.url));
const shared = {
  resolve: {
    alias: {
      // Outside a server bundle `server-only` throws; its own empty file is what the bundle would get.
      'server-only': `${root}node_modules/server-only/empty.js`,
      '@': root.replace(/\/$/, ''),
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
            'tests/{statistics,registry,analysis,exchange,runtime,access,architecture,seed,launch,speed}/**/*.test.ts',
            'tests/components/**/*.test.tsx',
          ],
          exclude: ['tests/**/*.database.test.ts'],
          env: { TZ: 'Asia/Kathmandu', AFTERBEAT_LOG: 'silent' },
          testTimeout: 60_000,
        },
      },
      {
        ...shared,
        test: {
          name: 'database',
          include: ['tests/{records,faults}/**/*.test.ts', 'tests/**/*.database.test.ts'],
          globalSetup: ['tests/support/database-server.ts'],
          env: { TZ: 'Asia/Kathmandu', AFTERBEAT_LOG: 'silent' },
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
