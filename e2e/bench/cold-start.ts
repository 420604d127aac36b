/** Measures a cold start: the time from opening the app, without a network, to a first screen that can be used. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { chromium, type BrowserContext, type Page } from '@playwright/test';

import { flags } from '../helpers/chromium.ts';
import { UPRIGHT } from '../helpers/phone.ts';
import { PATIENCE } from '../helpers/watching.ts';
import { processorTime, settled } from './processor.ts';
import { NONE, type Throttle } from './throttle.ts';

/** A selector that matches once the first screen can be used. */
const READY = '[data-ready=bench]';

/** The words before the ms in the page's message on the console. */
const TELLS = 'ready after ';

/** How long to wait for a slowed browser, in ms. */
const LONG = 4 * PATIENCE;

/** An app whose cold start is measured. */
export interface Start {
  /** The address of its first screen. */
  url: string;
  /** Brings the app, open in this page, into the state from which it is started (joined, filled with data). */
  prepare?: (page: Page) => Promise<void>;
  /** Makes the server unreachable. */
  disconnect: () => Promise<void>;
}

/** A device whose browser profile is kept on disk between starts, as on a phone. */
export class Device {
  readonly #profile: string;

  private constructor(profile: string) {
    this.#profile = profile;
  }

  /**
   * A new device on which this app was opened, prepared and made available offline. The server is unreachable
   * afterwards.
   */
  static async with({ url, prepare, disconnect }: Start): Promise<Device> {
    const device = new Device(await mkdtemp(join(tmpdir(), 'waxend-device-')));
    const context = await device.#open(NONE);
    const page = await context.newPage();
    await page.goto(url);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await prepare?.(page);
    await context.close();
    await disconnect();
    return device;
  }

  /** Measures one cold start: from a new browser process to the first screen drawn and ready. In ms. */
  async coldStart(url: string, throttle: Throttle): Promise<number> {
    const context = await this.#open(throttle);
    try {
      const page = await context.newPage();
      await throttle.slow(await context.newCDPSession(page));
      await page.addInitScript(watchFor, { selector: READY, tells: TELLS });
      return await start(page, url);
    } finally {
      await context.close();
    }
  }

  /**
   * The processor time of such a start, in a browser that is open and idle before it, summed over all its threads. In
   * ms.
   */
  async processorTime(url: string): Promise<number> {
    const context = await this.#open(NONE);
    try {
      const page = await context.newPage();
      await page.addInitScript(watchFor, { selector: READY, tells: TELLS });
      await settled(this.#profile);
      const before = processorTime(this.#profile);
      await start(page, url);
      return processorTime(this.#profile) - before;
    } finally {
      await context.close();
    }
  }

  /**
   * Opens these screens one after the other in an app that has started. Returns the ms that each took, and the page's
   * memory at the end.
   */
  async screens(url: string, throttle: Throttle, screens: Screen[]): Promise<{ took: number[]; heapMb: number }> {
    const context = await this.#open(throttle);
    try {
      const page = await context.newPage();
      const devtools = await context.newCDPSession(page);
      await throttle.slow(devtools);
      await page.goto(url, { timeout: LONG });
      await page.waitForSelector(READY, { timeout: LONG });
      const took: number[] = [];
      for (const { go, ready } of screens) took.push(await screen(page, go, ready));
      await devtools.send('HeapProfiler.collectGarbage');
      const { usedSize } = await devtools.send('Runtime.getHeapUsage');
      return { took, heapMb: usedSize / 1e6 };
    } finally {
      await context.close();
    }
  }

  async remove(): Promise<void> {
    await rm(this.#profile, { recursive: true, force: true });
  }

  async #open(throttle: Throttle): Promise<BrowserContext> {
    return chromium.launchPersistentContext(this.#profile, {
      executablePath: throttle.executable(),
      args: flags(),
      viewport: UPRIGHT,
      hasTouch: true,
      isMobile: true,
      timeout: LONG,
    });
  }
}

/** Opens the app in this page. Returns the ms until its first screen is drawn and ready. */
async function start(page: Page, url: string): Promise<number> {
  // The page reports the time by itself. Asking it would run hundreds of kB of the driver's script in it while it
  // starts.
  const told = page.waitForEvent('console', { predicate: (line) => line.text().startsWith(TELLS), timeout: LONG });
  await page.goto(url, { waitUntil: 'commit', timeout: LONG });
  return Number((await told).text().slice(TELLS.length));
}

/** A screen: how it is reached from the one before, and a selector that matches once it can be used. */
export interface Screen {
  what: string;
  go: (page: Page) => Promise<void>;
  ready: string;
}

/** The ms from the tap until the screen is drawn and ready. */
async function screen(page: Page, go: Screen['go'], ready: string): Promise<number> {
  await page.evaluate((selector) => {
    const watched = window as Watched;
    watched.readyAt = undefined;
    addEventListener('pointerdown', () => (watched.tappedAt = performance.now()), { capture: true, once: true });
    const look = (): void => {
      if (watched.tappedAt === undefined || watched.readyAt !== undefined || !document.querySelector(selector)) return;
      observer.disconnect();
      requestAnimationFrame(() => setTimeout(() => (watched.readyAt = performance.now())));
    };
    const observer = new MutationObserver(look);
    watched.tappedAt = undefined;
    observer.observe(document, { subtree: true, childList: true, attributes: true });
  }, ready);
  await go(page);
  const seen = await page.waitForFunction(() => (window as Watched).readyAt, undefined, { timeout: LONG });
  const readyAt = (await seen.jsonValue()) as number;
  return readyAt - ((await page.evaluate(() => (window as Watched).tappedAt)) ?? readyAt);
}

interface Watched extends Window {
  tappedAt?: number | undefined;
  readyAt?: number | undefined;
}

/** In the page, before any other script: reports when the element was drawn, in ms since the navigation began. */
function watchFor({ selector, tells }: { selector: string; tells: string }): void {
  const look = (): void => {
    if (!document.querySelector(selector)) return;
    observer.disconnect();
    requestAnimationFrame(() => setTimeout(() => console.info(`${tells}${performance.now()}`)));
  };
  const observer = new MutationObserver(look);
  observer.observe(document, { subtree: true, childList: true, attributes: true });
}
