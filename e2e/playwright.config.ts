import { defineConfig } from '@playwright/test';

import type { Engine } from './helpers/phone.ts';

/** Two browsers hold the same stories; what only Chromium can be made to do is told apart. */
export default defineConfig<object, { engine: Engine }>({
  testDir: '.',
  testIgnore: 'bench/**',
  outputDir: 'test-results',
  fullyParallel: false,
  // Two cores: one browser each. A test that passes only the second time is a broken test.
  workers: 2,
  retries: 0,
  // A slow machine's, not what a story should take.
  timeout: 300_000,
  forbidOnly: process.env['CI'] !== undefined,
  reporter: [['list']],
  projects: [
    { name: 'chromium', testMatch: ['stories/**/*.spec.ts', 'chromium/**/*.spec.ts'], use: { engine: 'chromium' } },
    { name: 'webkit', testMatch: 'stories/**/*.spec.ts', use: { engine: 'webkit' } },
  ],
});
