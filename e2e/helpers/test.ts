/**
 * What the browser tests share. Every test file begins with
 *
 *     import { test, expect } from '../helpers/test.ts';
 *
 * and asks for what it needs:
 *
 * - `newPhone(habits?)`: a new phone with nothing on it. In `stories/` it is Chromium in one project and WebKit in the
 *   other, so a story says only what {@link Phone} offers: press, fill, choose, attach, sees, finds, run, until.
 *   `habits`: another screen, a page whose own scripts are off, a camera that was refused.
 * - `waxend(wishes?)`: the real server on an empty data folder, at an address it keeps: stop, start, kill, joinCode,
 *   joinLink, command; see {@link Waxend}. It wants `cargo build --package server` (or `WAXEND_BIN`) and `make app`.
 * - `site(folder?)`: the app's files alone on a small server that can be stopped, started and given another build.
 * - `breaches(phone)`, `picture(phone, name)`, `pictures(phone, name)`: accessibility, and screenshots on a phone and a
 *   desk by day and by night.
 *
 * In `chromium/`, import `chromiumTest` instead: its phone is a {@link ChromiumPhone}, which can also lose its network,
 * its tab or its room on disk (`allowance` before the app is first opened, then `fillDisk` and `freeDisk`), open a second
 * tab, say what its console complained about, and show itself to devtools.
 *
 * In `firefox/`, import `firefoxTest`: its phone is a {@link FirefoxPhone}, which can do what the main job takes.
 *
 * Phones and servers are closed when the test ends. Nothing waits for a time to pass: `sees`, `finds`, `until` and
 * `eventually` wait for what they name. Run one file with `npx playwright test stories/shell`, one browser with
 * `--project webkit`, one test with `-g 'words of its name'`.
 */
import { test as base, type Browser } from '@playwright/test';

import { ChromiumPhone, startBefore, startChromium } from './chromium.ts';
import type { DrawnCode } from './code.ts';
import { noteCrash, unlessCrashed } from './crashed.ts';
import { FirefoxPhone } from './firefox.ts';
import type { Rgb } from './moving-picture.ts';
import { DIST } from './paths.ts';
import type { Engine, Habits, Phone } from './phone.ts';
import { Site } from './site.ts';
import { Waxend, type Wishes } from './waxend.ts';
import { WebKitPhone } from './webkit.ts';

export { expect } from '@playwright/test';
export { breaches } from './axe.ts';
export { DESK, UPRIGHT, type Phone } from './phone.ts';
export { picture, pictures } from './pictures.ts';
export { eventually } from './watching.ts';

interface Servers {
  site: (folder?: string) => Promise<Site>;
  waxend: (wishes?: Wishes) => Promise<Waxend>;
}

interface Worker {
  /** The browser of the phones, set by the project. */
  engine: Engine;
  chromiumBrowser: () => Promise<Browser>;
}

const common = base.extend<Servers, Worker>({
  engine: ['chromium', { option: true, scope: 'worker' }],

  chromiumBrowser: [
    async ({}, use) => {
      let browser: Promise<Browser> | undefined;
      await use(() => (browser ??= startChromium()));
      await (await browser)?.close();
    },
    { scope: 'worker' },
  ],

  site: async ({}, use) => {
    await lend((folder: string = DIST) => Site.start(folder), (site) => site.stop(), use);
  },

  waxend: async ({}, use) => {
    await lend((wishes?: Wishes) => Waxend.start(wishes), (server) => server.remove(), use);
  },
});

/** Stories, which run in two browsers. */
export const test = common.extend<{ newPhone: (habits?: Habits) => Promise<Phone> }>({
  newPhone: async ({ engine, chromiumBrowser }, use, info) => {
    unlessCrashed(info);
    const start = async (habits?: Habits): Promise<Phone> =>
      engine === 'webkit' ? WebKitPhone.start(habits) : ChromiumPhone.start(await chromiumBrowser(), habits);
    await lend(start, (phone) => phone.close(), use);
    noteCrash(info);
  },
});

/** Tests of what only Chromium can be made to do. */
export const chromiumTest = common.extend<{
  newPhone: (habits?: Habits) => Promise<ChromiumPhone>;
  /** A phone whose camera shows only this code, or fields of these colours from left to right. */
  phoneBefore: (seen: DrawnCode | Rgb[]) => Promise<ChromiumPhone>;
}>({
  phoneBefore: async ({}, use) => {
    const browsers: Browser[] = [];
    const start = async (seen: DrawnCode | Rgb[]): Promise<ChromiumPhone> => {
      const browser = await startBefore(seen);
      browsers.push(browser);
      return ChromiumPhone.start(browser);
    };
    await lend(start, (phone) => phone.close(), use);
    for (const browser of browsers) await browser.close();
  },

  newPhone: async ({ chromiumBrowser }, use) => {
    const start = async (habits?: Habits): Promise<ChromiumPhone> => ChromiumPhone.start(await chromiumBrowser(), habits);
    await lend(start, (phone) => phone.close(), use);
  },
});

/** Tests of the main job in Firefox. */
export const firefoxTest = common.extend<{ newPhone: () => Promise<FirefoxPhone> }>({
  newPhone: async ({}, use) => {
    await lend(() => FirefoxPhone.start(), (phone) => phone.close(), use);
  },
});

/**
 * Gives a test a function that starts things. When the test ends, all that were started are ended, the last one first.
 */
async function lend<T, A extends unknown[]>(
  start: (...args: A) => Promise<T>,
  end: (thing: T) => Promise<unknown>,
  use: (start: (...args: A) => Promise<T>) => Promise<void>,
): Promise<void> {
  const started: T[] = [];
  await use(async (...args: A) => {
    const thing = await start(...args);
    started.push(thing);
    return thing;
  });
  for (const thing of started.reverse()) await end(thing);
}
