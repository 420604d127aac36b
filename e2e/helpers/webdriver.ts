/** The commands of W3C WebDriver that the WebKit phone needs. https://www.w3.org/TR/webdriver2/ */

/** The key under which WebDriver names an element. */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

/** A reference to an element of the page. */
export interface Element {
  [ELEMENT]: string;
}

/** An error that the driver reported, with its W3C code (`no such element`, `javascript error`). */
export class WebDriverError extends Error {
  readonly code: string;

  constructor(code: string, message: string) {
    super(`${code}: ${message}`);
    this.code = code;
  }
}

export class WebDriver {
  readonly #session: string;

  private constructor(session: string) {
    this.#session = session;
  }

  /** Asks the driver at this address to start a browser. */
  static async start(url: string, capabilities: object): Promise<WebDriver> {
    const made = await call<{ sessionId: string }>('POST', `${url}/session`, { capabilities: { alwaysMatch: capabilities } });
    return new WebDriver(`${url}/session/${made.sessionId}`);
  }

  async timeouts(ms: number): Promise<void> {
    await this.#post('timeouts', { script: ms, pageLoad: ms, implicit: 0 });
  }

  async go(url: string): Promise<void> {
    await this.#post('url', { url });
  }

  async refresh(): Promise<void> {
    await this.#post('refresh');
  }

  async url(): Promise<string> {
    return this.#get('url');
  }

  /** Sets the window's outer size. */
  async resize(width: number, height: number): Promise<void> {
    await this.#post('window/rect', { width, height });
  }

  async screenshot(): Promise<Buffer> {
    return Buffer.from(await this.#get<string>('screenshot'), 'base64');
  }

  /** Runs the body of a function in the page. */
  async execute<R>(script: string, args: unknown[] = []): Promise<R> {
    return this.#post<R>('execute/sync', { script, args });
  }

  /** Runs the body of an asynchronous function, which calls its last argument with the result. */
  async executeAsync<R>(script: string, args: unknown[]): Promise<R> {
    return this.#post<R>('execute/async', { script, args });
  }

  async click(element: Element): Promise<void> {
    await this.#post(`element/${element[ELEMENT]}/click`);
  }

  async clear(element: Element): Promise<void> {
    await this.#post(`element/${element[ELEMENT]}/clear`);
  }

  async type(element: Element, text: string): Promise<void> {
    await this.#post(`element/${element[ELEMENT]}/value`, { text });
  }

  /** Presses and releases a key, wherever the focus is. */
  async key(value: string): Promise<void> {
    const actions = [{ type: 'keyDown', value }, { type: 'keyUp', value }];
    await this.#post('actions', { actions: [{ type: 'key', id: 'keyboard', actions }] });
  }

  /** Ends the browser. */
  async end(): Promise<void> {
    await call('DELETE', this.#session);
  }

  async #get<R>(command: string): Promise<R> {
    return call<R>('GET', `${this.#session}/${command}`);
  }

  async #post<R>(command: string, body: object = {}): Promise<R> {
    return call<R>('POST', `${this.#session}/${command}`, body);
  }
}

async function call<R>(method: string, url: string, body?: object): Promise<R> {
  const init: RequestInit = { method };
  if (body) {
    init.body = JSON.stringify(body);
    init.headers = { 'content-type': 'application/json' };
  }
  const response = await fetch(url, init);
  const { value } = (await response.json()) as { value: R & { error?: string; message?: string } };
  if (!response.ok) throw new WebDriverError(value.error ?? `${response.status}`, value.message ?? '');
  return value;
}
