import { defineConfig } from '@playwright/test';

/** One test at a time: whatever runs beside a measurement changes it. */
export default defineConfig({
  testDir: '.',
  outputDir: '../test-results/bench',
  workers: 1,
  retries: 0,
  timeout: 30 * 60_000,
  reporter: [['list']],
});
