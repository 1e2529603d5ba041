import { defineConfig } from 'vitest/config';

export default defineConfig({
  // Tests run on the sources: no build stands between an edit and its test.
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
  test: {
    include: ['packages/*/src/**/*.test.ts', 'test/**/*.test.ts'],
    globalSetup: ['test/support/run-folder.ts'],
    setupFiles: ['test/support/property-seed.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    pool: 'forks',
    maxWorkers: 2,
  },
});
