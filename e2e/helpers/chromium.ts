/** A phone with Chromium, driven by Playwright. */
import { chromium, type Browser, type BrowserContext, type CDPSession, type Page } from '@playwright/test';

import { coloursSideBySide, movingPicture, pictureOf, type Rgb, type Size } from './moving-picture.ts';
import type { DrawnCode } from './code.ts';
import { CHROMIUM } from './paths.ts';
import { UPRIGHT } from './phone.ts';
import type { Habits, Name, Phone, Plain, Role, Screen } from './phone.ts';
import { PATIENCE, Watching } from './watching.ts';

/** The size of the fake camera's frames unless a test sets another. */
const CAMERA: Size = { width: 1280, height: 960 };

/** Flags of the browser: no network requests of its own, and a camera that plays this film. */
export function flags(film: string = movingPicture(CAMERA)): string[] {
  return [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${film}`,
  ];
}

/** Starts a Chromium that several phones can share. */
export async function startChromium(camera: Size = CAMERA): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM, args: flags(movingPicture(camera)) });
}

/** Starts a Chromium whose camera shows a code, or fields of these colours. */
export async function startBefore(seen: DrawnCode | Rgb[]): Promise<Browser> {
  const film = Array.isArray(seen) ? coloursSideBySide(seen, CAMERA) : pictureOf(seen, CAMERA);
  return chromium.launch({ executablePath: CHROMIUM, args: flags(film) });
}

export class ChromiumPhone extends Watching implements Phone {
  readonly engine = 'chromium';
  /** Playwright's page, for tests that run only in Chromium. */
  page: Page;
  /** Errors on the page's console, and uncaught ones. */
  readonly complaints: string[] = [];
  readonly #context: BrowserContext;

  private constructor(context: BrowserContext, page: Page) {
    super();
    this.#context = context;
    this.page = page;
    this.#listen(page);
  }

  static async start(browser: Browser, habits: Habits = {}): Promise<ChromiumPhone> {
    const screen = habits.screen ?? UPRIGHT;
    const context = await browser.newContext({
      viewport: screen,
      hasTouch: screen.width < 800,
      isMobile: screen.width < 800,
      javaScriptEnabled: habits.script !== 'off',
      // Without the permission, a request fails as if the user had denied it.
      permissions: habits.camera === 'denied' ? [] : ['camera', 'microphone'],
    });
    context.setDefaultTimeout(PATIENCE);
    const page = await context.newPage();
    return new ChromiumPhone(context, page);
  }

  /** A second tab of the same browser: same storage, same worker. */
  async newTab(): Promise<ChromiumPhone> {
    return new ChromiumPhone(this.#context, await this.#context.newPage());
  }

  /** Crashes the tab, as when the system ends it to free memory, and opens an empty one in its place. */
  async killTab(): Promise<void> {
    const devtools = await this.devtools();
    const crashed = new Promise((resolve) => this.page.once('crash', resolve));
    // This call never returns, because the page that would answer has crashed.
    void devtools.send('Page.crash').catch(() => undefined);
    await crashed;
    await this.page.close();
    this.page = await this.#context.newPage();
    this.#listen(this.page);
  }

  /** Turns this phone's network off or on. */
  async network(state: 'on' | 'off'): Promise<void> {
    await this.#context.setOffline(state === 'off');
  }

  /**
   * Limits the disk space of the app at this address (default: the one shown) to so many bytes. It has to be called
   * before the app is first opened there: the browser remembers the free space for half a minute.
   */
  async allowance(bytes: number, url: string = this.page.url()): Promise<void> {
    const devtools = await this.devtools();
    await devtools.send('Storage.overrideQuotaForOrigin', { origin: new URL(url).origin, quotaSize: bytes });
  }

  /** Fills the space that {@link allowance} leaves with a database besides the app's. Returns the bytes it took. */
  async fillDisk(): Promise<number> {
    return this.run(fillWithBallast, BALLAST);
  }

  /** Deletes that database. */
  async freeDisk(): Promise<void> {
    await this.run(async (name: string) => {
      const deleting = indexedDB.deleteDatabase(name);
      await new Promise((resolve, reject) => {
        deleting.onsuccess = resolve;
        deleting.onerror = () => reject(deleting.error);
      });
    }, BALLAST);
  }

  /** A session of the Chrome DevTools Protocol with this page. */
  async devtools(): Promise<CDPSession> {
    return this.#context.newCDPSession(this.page);
  }

  async open(url: string): Promise<void> {
    await this.page.goto(url);
  }

  async reload(): Promise<void> {
    await this.page.reload();
  }

  async address(): Promise<string> {
    return this.page.url();
  }

  async press(name: Name, role: Role = 'button'): Promise<void> {
    const target = this.page.getByRole(role, { name, exact: true });
    do {
      await target.evaluate(watchTap);
      await target.click();
      // The page treats the tap as the second half of a double tap and ignores it. A user would tap again, and so does
      // this. A page that is being replaced has had the tap.
    } while (await this.page.evaluate(wasIgnored).catch(() => false));
  }

  async fill(label: Name, text: string): Promise<void> {
    await this.page.getByLabel(label, { exact: true }).fill(text);
  }

  async choose(label: Name, option: string): Promise<void> {
    await this.page.getByLabel(label, { exact: true }).selectOption({ label: option });
  }

  async attach(label: Name, path: string): Promise<void> {
    await this.page.getByLabel(label, { exact: true }).setInputFiles(path);
  }

  async key(key: string): Promise<void> {
    await this.page.keyboard.press(key);
  }

  async has(name: Name, role: Role): Promise<boolean> {
    return (await this.page.getByRole(role, { name, exact: true }).count()) > 0;
  }

  async run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    // Playwright passes only one argument, so the arguments are part of the expression.
    return this.page.evaluate(`(${work.toString()})(...${JSON.stringify(args)})`) as Promise<R>;
  }

  /** A look into a page that is just being replaced may never be answered; `until` then looks again. */
  protected override async look<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    const answer = this.run(work, ...args);
    answer.catch(() => undefined);
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new Error('no answer: the page may be navigating')), PATIENCE / 4);
    });
    return Promise.race([answer, late]).finally(() => clearTimeout(timer));
  }

  protected override passOver(error: unknown): undefined {
    if (/context was destroyed|navigat|Target crashed/i.test(String(error))) return undefined;
    throw error;
  }

  async picture(): Promise<Buffer> {
    return this.page.screenshot({ animations: 'disabled' });
  }

  async theme(theme: 'light' | 'dark'): Promise<void> {
    await this.page.emulateMedia({ colorScheme: theme });
  }

  async resize(screen: Screen): Promise<void> {
    await this.page.setViewportSize(screen);
  }

  async close(): Promise<void> {
    await this.#context.close();
  }

  #listen(page: Page): void {
    page.on('pageerror', (error) => this.complaints.push(String(error)));
    page.on('console', (message) => {
      if (message.type() === 'error') this.complaints.push(message.text());
    });
  }
}

/** The name of the database that fills the disk. */
const BALLAST = 'ballast';

/**
 * In the page: stores random bytes in smaller and smaller pieces until even the smallest does not fit. Returns the
 * bytes stored.
 */
async function fillWithBallast(name: string): Promise<number> {
  const opening = indexedDB.open(name, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('bytes', { autoIncrement: true });
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  const fits = (bytes: number): Promise<boolean> =>
    new Promise((resolve) => {
      const noise = new Uint8Array(bytes);
      for (let at = 0; at < bytes; at += 65_536) crypto.getRandomValues(noise.subarray(at, at + 65_536));
      const change = database.transaction('bytes', 'readwrite', { durability: 'strict' });
      change.objectStore('bytes').put(noise);
      change.oncomplete = () => resolve(true);
      change.onabort = () => resolve(false);
    });
  let stored = 0;
  for (let piece = 1 << 20; piece >= 256; piece /= 2) {
    while (await fits(piece)) stored += piece;
  }
  database.close();
  return stored;
}

/**
 * In the page: notes whether the next click reaches this element. Where scripts are off, no listener is called, so that
 * nothing can be noted and the click is taken to count.
 */
function watchTap(element: Element): void {
  Object.assign(window, { tapped: true, target: element });
  element.addEventListener('watched', () => Object.assign(window, { tapped: false }), { once: true });
  element.dispatchEvent(new Event('watched'));
  element.addEventListener('click', () => Object.assign(window, { tapped: true }), { once: true, capture: true });
}

/** In the page: whether the click has not reached the element, which is still there. */
function wasIgnored(): boolean {
  const { tapped, target } = window as unknown as { tapped?: boolean; target?: Element };
  return tapped === false && target?.isConnected === true;
}
