import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { Longest } from './test/sequence.js';

/**
 * Files of one worker share what they import: Nest, TypeORM and all of the server take longer to load than most files take to run. So a
 * test file leaves nothing behind in a module, a global or the environment; what each has of its own is its database and its folder.
 */
const shared = { environment: 'node', isolate: false, setupFiles: ['test/setup.ts'], testTimeout: 120_000, hookTimeout: 120_000 };

export default defineConfig({
  test: {
    maxWorkers: availableParallelism(), // by default one core is left for whoever edits meanwhile: on two cores that is half of them
    sequence: { sequencer: Longest },
    projects: [
      {
        test: {
          ...shared,
          name: 'unit',
          include: ['src/**/*.test.ts', 'shared/**/*.test.ts'],
        },
      },
      {
        test: {
          ...shared,
          name: 'server',
          include: ['test/**/*.test.ts'],
          exclude: ['test/web/**'],
          globalSetup: ['test/postgres.ts', 'test/templates.ts'],
        },
      },
      {
        test: {
          ...shared,
          name: 'web',
          include: ['test/web/**/*.test.ts'],
          globalSetup: ['test/web/demo-once.ts', 'test/templates.ts'],
          sequence: { groupOrder: 1 },
        },
      },
    ],
    coverage: { provider: 'v8', include: ['src/**', 'shared/**'], exclude: ['**/*.test.ts'] },
  },
});
