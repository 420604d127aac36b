/** A phone with Debian's Firefox, driven by Puppeteer over WebDriver BiDi. It supports what the main job needs. */
import puppeteer, { type Browser, type ElementHandle, type Page } from 'puppeteer-core';

import { FINDER, HAS_FINDER, byLabel, byRole } from './finder.ts';
import { FIREFOX } from './paths.ts';
import { UPRIGHT, type Name, type Plain, type PlainPhone, type Role } from './phone.ts';
import { PATIENCE, Watching, eventually } from './watching.ts';

/**
 * How long the driver may take for one call, in ms. A call into a page that is just being replaced may never be answered: it is
 * made again, and there must be time for that.
 */
const CALL = PATIENCE / 4;

/** A fake camera with a moving picture, and the permission to use it. */
const CAMERA = { 'media.navigator.streams.fake': true, 'media.navigator.permission.disabled': true };

export class FirefoxPhone extends Watching implements PlainPhone {
  readonly #browser: Browser;
  readonly #page: Page;
  /** The browser's last error, for the message when waiting times out. */
  #refused = '';

  private constructor(browser: Browser, page: Page) {
    super();
    this.#browser = browser;
    this.#page = page;
  }

  static async start(): Promise<FirefoxPhone> {
    const browser = await puppeteer.launch({
      browser: 'firefox',
      executablePath: FIREFOX,
      headless: true,
      extraPrefsFirefox: CAMERA,
      timeout: PATIENCE,
      protocolTimeout: CALL,
    });
    const page = await browser.newPage();
    page.setDefaultTimeout(PATIENCE);
    await page.setViewport(UPRIGHT);
    return new FirefoxPhone(browser, page);
  }

  async open(url: string): Promise<void> {
    await this.#page.goto(url);
  }

  async reload(): Promise<void> {
    await this.#page.reload();
  }

  async press(name: Name, role: Role = 'button'): Promise<void> {
    await this.#act(`the ${role} ${name}`, byRole(name, role), (element) => this.#tap(element));
  }

  /**
   * Clicks on the element. The driver clicks on a point: there may be the bar at the bottom, or the element has just moved
   * away. Then it is tried again.
   */
  async #tap(element: ElementHandle<Element>): Promise<void> {
    await element.evaluate((pressed) => {
      const page = window as { tapped?: boolean };
      page.tapped = false;
      pressed.addEventListener('click', () => { page.tapped = true; }, { once: true, capture: true });
      pressed.scrollIntoView({ block: 'center' });
    });
    await element.click();
    // If the tap has led to another page, the variable does not exist there.
    const missed = await this.#page.evaluate('window.tapped === false').catch(() => false);
    if (missed) throw new Error('the tap did not reach it');
  }

  async fill(label: Name, text: string): Promise<void> {
    await this.#act(`the field ${label}`, byLabel(label), async (element) => {
      await element.evaluate((field) => (field as HTMLInputElement).select());
      await element.press('Delete');
      await element.type(text);
    });
  }

  async run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    return this.#page.evaluate(`(${work.toString()})(...${JSON.stringify(args)})`) as Promise<R>;
  }

  protected override passOver(error: unknown): undefined {
    // While a page is being replaced, anything may be missing, including the finder. Only a closed browser is an error.
    if (!this.#browser.connected) throw error;
    this.#refused = `; the browser last said: ${String(error)}`;
    return undefined;
  }

  async close(): Promise<void> {
    await this.#browser.close();
  }

  /**
   * Waits for the element of an expression and acts on it; tries again if the page has replaced the element meanwhile.
   */
  async #act(what: string, found: string, act: (element: ElementHandle<Element>) => Promise<unknown>): Promise<void> {
    const passOver = (error: unknown): undefined => this.passOver(error);
    this.#refused = '';
    await eventually(
      what,
      async () => {
        const handle = await this.#page.evaluateHandle(`if (!${HAS_FINDER}) { ${FINDER} } ${found}`).catch(passOver);
        const element = handle?.asElement() as ElementHandle<Element> | null | undefined;
        if (!element) return false;
        return act(element).then(() => true, passOver);
      },
      () => this.#refused,
    );
  }
}
