/** A phone with WebKit: Debian's MiniBrowser, driven over WebDriver, on a virtual screen of its own. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { FINDER, HAS_FINDER, byLabel, byRole } from './finder.ts';
import { firstOf } from './paths.ts';
import { UPRIGHT } from './phone.ts';
import type { Habits, Name, Phone, Plain, Role, Screen } from './phone.ts';
import { freePort } from './port.ts';
import { Program } from './program.ts';
import { PATIENCE, Watching, eventually } from './watching.ts';
import { WebDriver, WebDriverError, type Element } from './webdriver.ts';

const MINIBROWSER = ['4.1', '4.0', '6.0'].map((version) => `/usr/lib/x86_64-linux-gnu/webkit2gtk-${version}/MiniBrowser`);

const FLAGS = ['--automation', '--enable-media-stream=true', '--enable-mock-capture-devices=true'];
/** Removes the page's own scripts while it is parsed; those of the tests still run. */
const NO_SCRIPT = '--enable-javascript-markup=false';

const KEYS: Record<string, string> = { Enter: '\uE007', Tab: '\uE004', Escape: '\uE00C', Backspace: '\uE003', ArrowRight: '\uE014', End: '\uE010' };

/** A browser, and the process of its driver. */
interface Driven {
  service: Program;
  driver: WebDriver;
}

export class WebKitPhone extends Watching implements Phone {
  readonly engine = 'webkit';
  readonly #home: string;
  readonly #screen: Program;
  readonly #habits: Habits;
  #browser: Driven;
  /** The driver's last error, for the message when waiting times out. */
  #refused = '';
  /**
   * The address of the first page while nothing but looking at it was done; null before the first page, empty
   * afterwards.
   */
  #untouched: string | null = null;

  private constructor(home: string, screen: Program, habits: Habits, browser: Driven) {
    super();
    this.#home = home;
    this.#screen = screen;
    this.#habits = habits;
    this.#browser = browser;
  }

  static async start(habits: Habits = {}): Promise<WebKitPhone> {
    if (habits.camera === 'denied') throw new Error('only the Chromium phone can do that');
    const home = await newHome();
    const screen = new Program('Xvfb', ['-displayfd', '1', '-screen', '0', '1400x1000x24', '-nolisten', 'tcp']);
    const phone = new WebKitPhone(home, screen, habits, await driven(home, screen, habits));
    await phone.resize(habits.screen ?? UPRIGHT);
    return phone;
  }

  get #driver(): WebDriver {
    return this.#browser.driver;
  }

  async open(url: string): Promise<void> {
    const first = this.#untouched === null;
    try {
      await this.#driver.go(url);
    } catch (error) {
      if (!first || !isGone(error)) throw error;
      await this.#replace();
      await this.#driver.go(url);
    }
    this.#untouched = first ? url : '';
  }

  async reload(): Promise<void> {
    await this.#driver.refresh();
  }

  async address(): Promise<string> {
    return this.#driver.url();
  }

  async press(name: Name, role: Role = 'button'): Promise<void> {
    await this.#act(`the ${role} ${name}`, () => this.#byRole(name, role), async (element) => {
      await this.#bringUp(element);
      // The driver cannot find the middle of an SVG shape to click on.
      const drawn = await this.#driver.execute<boolean | null>(
        `const drawn = arguments[0] instanceof SVGElement;
        if (drawn && !arguments[0].dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true }))) return null;
        return drawn;`,
        [element],
      );
      // The page treats the tap as the second half of a double tap and ignores it. A user would tap again, and so does
      // this.
      if (drawn === null) throw new WebDriverError('element click intercepted', 'the tap did not count');
      if (!drawn) await this.#tap(element);
    });
  }

  /**
   * Clicks on the element. The driver clicks on a point, so an element that has just moved away, or cannot be pressed
   * yet, is missed; it is tried again then.
   */
  async #tap(element: Element): Promise<void> {
    await this.#driver.execute(
      `const [element] = arguments;
      window.tapped = false;
      element.addEventListener('click', () => { window.tapped = true; }, { once: true, capture: true });`,
      [element],
    );
    await this.#driver.click(element);
    // If the tap has led to another page, the variable does not exist there.
    const missed = await this.#driver.execute<boolean>('return window.tapped === false;').catch(() => false);
    if (missed) throw new WebDriverError('element click intercepted', 'the tap did not reach it');
  }

  async fill(label: Name, text: string): Promise<void> {
    await this.#act(`the field ${label}`, () => this.#byLabel(label), async (element) => {
      await this.#bringUp(element);
      await this.#driver.clear(element);
      // The driver refuses to type an empty text.
      if (text !== '') await this.#driver.type(element, text);
    });
  }

  async choose(label: Name, option: string): Promise<void> {
    await this.#act(`${option} in the list ${label}`, () => this.#byOption(label, option), async (element) => {
      // If the list was drawn again meanwhile, the option is no longer in one. The driver reports that when it clicks.
      await this.#driver.execute("arguments[0].closest('select')?.scrollIntoView({ block: 'center' })", [element]);
      await this.#driver.click(element);
    });
  }

  async attach(label: Name, path: string): Promise<void> {
    await this.#act(`the file field ${label}`, () => this.#byLabel(label), (element) => this.#driver.type(element, path));
  }

  async key(key: string): Promise<void> {
    this.#touch();
    await this.#driver.key(KEYS[key] ?? key);
  }

  async has(name: Name, role: Role): Promise<boolean> {
    return (await this.#byRole(name, role)) !== null;
  }

  async run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    this.#touch();
    return this.#evaluate(work, ...args);
  }

  protected override async look<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    try {
      return await this.#evaluate(work, ...args);
    } catch (error) {
      const url = this.#untouched;
      if (!url || !isGone(error)) throw error;
      this.#touch();
      await this.#replace();
      await this.open(url);
      return this.#evaluate(work, ...args);
    }
  }

  async #evaluate<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve().then(() => (${work.toString()})(...JSON.parse(arguments[0])))
        .then((value) => done({ value: value === undefined ? null : value }), (error) => done({ error: String(error) }));`;
    const answer = await this.#driver.executeAsync<{ value: R; error?: string }>(script, [JSON.stringify(args)]);
    if (answer.error !== undefined) throw new Error(answer.error);
    return answer.value;
  }

  protected override passOver(error: unknown): undefined {
    // While a page is being replaced, anything may be missing, including the finder. Only a driver without its browser
    // is an error.
    if (isGone(error)) throw new Error(`${String(error)}\n${this.#browser.service.output}`);
    if (!(error instanceof WebDriverError)) throw error;
    this.#refused = `; the driver last said: ${error.message}`;
    return undefined;
  }

  async picture(): Promise<Buffer> {
    // The driver captures what was drawn last, which after a change of size or page may be nothing yet.
    await this.look(drawn);
    return this.#driver.screenshot();
  }

  async resize({ width, height }: Screen): Promise<void> {
    // Only the window's size can be set. The page is smaller by what the browser draws around it.
    await this.#driver.resize(width, height);
    const inner = await this.#driver.execute<Screen>('return { width: innerWidth, height: innerHeight }');
    await this.#driver.resize(2 * width - inner.width, 2 * height - inner.height);
  }

  async close(): Promise<void> {
    await this.#end();
    await this.#screen.stop();
    // The browser's helper processes end a little later and write until then.
    await rm(this.#home, { recursive: true, force: true, maxRetries: 20, retryDelay: 50 });
  }

  /** From now on the browser's state cannot be restored by opening its first page again. */
  #touch(): void {
    this.#untouched = '';
  }

  /**
   * Starts another browser in the place of one in which nothing was done yet. Debian's has crashed on about one in a
   * hundred first pages, in its libraries (GLib: "getauxval () failed: Interrupted system call").
   */
  async #replace(): Promise<void> {
    await this.#end();
    this.#browser = await driven(this.#home, this.#screen, this.#habits);
    await this.resize(this.#habits.screen ?? UPRIGHT);
  }

  async #end(): Promise<void> {
    await this.#driver.end().catch(() => undefined);
    await this.#browser.service.stop();
  }

  /**
   * Scrolls an element to the middle of the page, since the driver would leave it at the edge, where a bar may cover
   * it, and waits until it no longer moves: the driver clicks on a point, and not on an element that has moved away.
   */
  async #bringUp(element: Element): Promise<void> {
    await this.#driver.executeAsync<null>(
      `const [element, done] = arguments;
      element.scrollIntoView({ block: 'center' });
      let before = null;
      const look = () => {
        const { x, y, width, height } = element.getBoundingClientRect();
        const now = [x, y, width, height, element.isConnected].join();
        if (now === before || !element.isConnected) return done(null);
        before = now;
        requestAnimationFrame(look);
      };
      requestAnimationFrame(look);`,
      [element],
    );
  }

  /** Waits for an element and acts on it; tries again if the page has replaced the element meanwhile. */
  async #act(what: string, find: () => Promise<Element | null>, act: (element: Element) => Promise<void>): Promise<void> {
    const passOver = (error: unknown): undefined => this.passOver(error);
    this.#touch();
    this.#refused = '';
    await eventually(
      what,
      async () => {
        const element = await find().catch(passOver);
        if (!element) return false;
        return act(element).then(() => true, passOver);
      },
      () => this.#refused,
    );
  }

  async #byRole(name: Name, role: Role): Promise<Element | null> {
    return this.#find(`return ${byRole(name, role)};`);
  }

  async #byLabel(label: Name): Promise<Element | null> {
    return this.#find(`return ${byLabel(label)};`);
  }

  async #byOption(label: Name, option: string): Promise<Element | null> {
    return this.#find(`const list = ${byLabel(label)};
      return (list && [...list.options].find((one) => one.label.trim() === ${JSON.stringify(option)})) || null;`);
  }

  /** Runs a search. The finder is long, so it is sent only to a page that does not have it yet. */
  async #find(search: string): Promise<Element | null> {
    const found = await this.#driver.execute<Element | null | 'no finder'>(`if (!${HAS_FINDER}) return 'no finder'; ${search}`);
    return found === 'no finder' ? this.#driver.execute(`${FINDER} ${search}`) : found;
  }
}

/** In the page: waits until its present content was drawn. */
async function drawn(): Promise<void> {
  for (let frame = 0; frame < 3; frame += 1) await new Promise((next) => requestAnimationFrame(next));
}

/**
 * A home folder for one browser. The style sheet makes the browser's own buttons tiny, because they would keep the
 * window wider than a phone.
 */
async function newHome(): Promise<string> {
  const home = await mkdtemp(join(tmpdir(), 'waxend-webkit-'));
  const style = '* { min-width: 0; min-height: 0; padding: 0; margin: 0; border-width: 0; font-size: 1px; -gtk-icon-transform: scale(0.1); }';
  await mkdir(join(home, 'gtk-3.0'));
  await writeFile(join(home, 'gtk-3.0/gtk.css'), style);
  return home;
}

/** Whether the browser has ended. */
function isGone(error: unknown): boolean {
  return error instanceof WebDriverError && error.code === 'invalid session id';
}

/** Starts the driver and a browser with this home folder, on this screen. */
async function driven(home: string, screen: Program, habits: Habits): Promise<Driven> {
  const port = await freePort();
  const service = new Program('WebKitWebDriver', [`--port=${port}`], {
    DISPLAY: `:${await screen.says(/^(\d+)$/)}`,
    XDG_CONFIG_HOME: home,
    XDG_DATA_HOME: home,
    XDG_CACHE_HOME: home,
    MESA_SHADER_CACHE_DISABLE: 'true',
    // The OpenGL elements of Debian's GStreamer sometimes crash the page while the camera's picture is shown.
    WEBKIT_GST_DISABLE_GL_SINK: '1',
    // Skia sometimes aborts with a software implementation of OpenGL, on about one page in a hundred.
    WEBKIT_SKIA_ENABLE_CPU_RENDERING: '1',
    // Skia parses its own modules with `strtoull` and treats any `errno` as an error. A concurrent garbage collector
    // stops the page with a signal whose handler sets `errno`; one that runs in the page's own thread sends no signal.
    JSC_useConcurrentGC: '0',
  });
  return { service, driver: await connect(port, habits) };
}

/** Has the driver at this port start a browser. */
async function connect(port: number, habits: Habits): Promise<WebDriver> {
  const url = `http://127.0.0.1:${port}`;
  await eventually('the WebKit driver answers', () => fetch(`${url}/status`).then((response) => response.ok, () => false));
  const driver = await WebDriver.start(url, {
    browserName: 'MiniBrowser',
    'webkitgtk:browserOptions': {
      binary: firstOf('MiniBrowser', MINIBROWSER),
      args: [...FLAGS, ...(habits.script === 'off' ? [NO_SCRIPT] : [])],
    },
  });
  await driver.timeouts(PATIENCE);
  return driver;
}
