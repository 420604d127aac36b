/** How long a person looks at nothing: from opening the app, with no network, to a screen that can be used. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { chromium, type BrowserContext, type Page } from '@playwright/test';

import { flags } from '../helpers/chromium.ts';
import { UPRIGHT } from '../helpers/phone.ts';
import { PATIENCE } from '../helpers/watching.ts';
import { processorTime, settled } from './processor.ts';
import { NONE, type Throttle } from './throttle.ts';

/** The element that says the first screen can be used. */
const READY = '[data-ready=bench]';

/** What the page says before the ms. */
const TELLS = 'ready after ';

/** How long a slowed browser may take, in ms. */
const LONG = 4 * PATIENCE;

/** What is started cold. */
export interface Start {
  /** The address of its first screen. */
  url: string;
  /** Brings the app, open in this page, to the state it is to start from (joined, filled). */
  prepare?: (page: Page) => Promise<void>;
  /** Takes the server away. */
  disconnect: () => Promise<void>;
}

/** A device that is kept from start to start, on disk, as a phone is. */
export class Device {
  readonly #profile: string;

  private constructor(profile: string) {
    this.#profile = profile;
  }

  /** A new device on which this app has been opened, prepared and made complete. The server is gone afterwards. */
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

  /** One cold start, in ms: a new browser process, to the first screen drawn and ready. */
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

  /** What such a start takes of a processor in a browser that is open and has settled, in ms, all its threads together. */
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

  /** How long each of these screens takes, one after the other in an app that has started, in ms; and the page's memory then. */
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

/** Opens the app in this page; the ms from there until its first screen is drawn and ready. */
async function start(page: Page, url: string): Promise<number> {
  // The page tells when it stands. To ask it would run hundreds of kB of the driver's script in it while it starts.
  const told = page.waitForEvent('console', { predicate: (line) => line.text().startsWith(TELLS), timeout: LONG });
  await page.goto(url, { waitUntil: 'commit', timeout: LONG });
  return Number((await told).text().slice(TELLS.length));
}

/** A screen: how one gets there from the one before, and what says that it can be used. */
export interface Screen {
  what: string;
  go: (page: Page) => Promise<void>;
  ready: string;
}

/** From the tap to the screen drawn and ready. */
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

/** In the page, before anything else: tells when the element has been drawn, in ms since the navigation began. */
function watchFor({ selector, tells }: { selector: string; tells: string }): void {
  const look = (): void => {
    if (!document.querySelector(selector)) return;
    observer.disconnect();
    requestAnimationFrame(() => setTimeout(() => console.info(`${tells}${performance.now()}`)));
  };
  const observer = new MutationObserver(look);
  observer.observe(document, { subtree: true, childList: true, attributes: true });
}
