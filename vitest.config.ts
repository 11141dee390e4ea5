import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          environment: 'node',
          include: ['src/**/*.test.ts', 'shared/**/*.test.ts'],
          setupFiles: ['test/setup.ts'],
        },
      },
      {
        test: {
          name: 'server',
          environment: 'node',
          include: ['test/**/*.test.ts'],
          exclude: ['test/web/**'],
          globalSetup: ['test/postgres.ts', 'test/templates.ts'],
          setupFiles: ['test/setup.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'web',
          environment: 'node',
          include: ['test/web/**/*.test.ts'],
          globalSetup: ['test/web/demo-once.ts', 'test/templates.ts'],
          setupFiles: ['test/setup.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
    coverage: { provider: 'v8', include: ['src/**', 'shared/**'], exclude: ['**/*.test.ts'] },
  },
});
