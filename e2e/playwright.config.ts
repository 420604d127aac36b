import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

import { defineConfig } from '@playwright/test';

import type { Engine } from './helpers/phone.ts';

/**
 * The stories in which browser engines differ, and why. WebKit runs these in every run. The others run the same wasm on
 * the same elements in both engines, so WebKit runs them only in `make test-all`. Chromium runs all of them always.
 */
const DIFFERING: Record<string, string> = {
  bench: 'layout: the sizes of what is tapped',
  camera: 'the camera, reading and turning picture files, a page that is hidden',
  destroyed: 'storage: what is deleted leaves the database and the cache; the dialog',
  figures: 'the worker: a module with wasm of its own',
  'one-tap': 'touch: pointer events, double taps, what is drawn under a finger',
  'people-and-prices': 'print: the sheet of stub and tags',
  pickup: 'share: the notice to the customer; the card with scripts turned off',
  plan: 'dates: the fields for a day and an hour, weekdays by the phone\'s zone',
  scan: 'the camera in place; the reader where the browser has none',
  shelf: 'share: an order as a text and as a file',
  shell: 'the service worker, its cache, storage, the accessibility tree',
  store: 'storage: what the database promises',
  sync: 'the network: what wakes the app, a server that is gone',
  verbs: 'the phone of the tests itself',
  'whole-job': 'all of it together, on two devices and without scripts',
};

const story = (name: string): string => `stories/${name}.spec.ts`;

for (const name of Object.keys(DIFFERING)) {
  if (!existsSync(fileURLToPath(new URL(story(name), import.meta.url)))) throw new Error(`there is no story ${name}`);
}

const EVERY = ['stories/**/*.spec.ts'];
/** `make test` runs only those that differ in WebKit; `make test-all`, and a run of named tests, can have any. */
const IN_WEBKIT = process.env['WAXEND_WEBKIT'] === 'differing' ? Object.keys(DIFFERING).map(story) : EVERY;

/**
 * Two browsers run the same stories; what only Chromium can be made to do is in tests of its own; Firefox runs the main
 * job.
 */
export default defineConfig<object, { engine: Engine }>({
  testDir: '.',
  testIgnore: 'bench/**',
  outputDir: 'test-results',
  globalSetup: './helpers/prepared.ts',
  fullyParallel: false,
  // One browser for each of two cores. No test is repeated: one that passes only the second time is broken. The exception
  // is a story whose WebKit itself has crashed, see `unlessCrashed` in `helpers/crashed.ts`.
  workers: 2,
  retries: 0,
  // For slow machines; a story should take much less.
  timeout: 300_000,
  forbidOnly: process.env['CI'] !== undefined,
  reporter: [['list'], ['./helpers/times.ts']],
  projects: [
    { name: 'chromium', testMatch: [...EVERY, 'chromium/**/*.spec.ts'], use: { engine: 'chromium' } },
    { name: 'webkit', testMatch: IN_WEBKIT, retries: 1, use: { engine: 'webkit' } },
    { name: 'firefox', testMatch: 'firefox/**/*.spec.ts' },
  ],
});
