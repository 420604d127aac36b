/** The real server on a data folder of its own. */
import { execFile } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

import { DIST, ROOT, firstOf } from './paths.ts';
import { freePort } from './port.ts';
import { prepared } from './prepared.ts';
import { Program } from './program.ts';

/** How a test wants its server to be. */
export interface Wishes {
  /** Fill it with the demo shop. */
  demo?: boolean;
  /** The folder of the app's build that it serves. */
  app?: string;
  /** Serve the app that `make e2e` has embedded in the binary. */
  whole?: boolean;
}

/** The path of the binary: `WAXEND_BIN`, else the release build, else the development build. */
export function binary(): string {
  const named = process.env['WAXEND_BIN'];
  return named ?? firstOf('waxend binary', [join(ROOT, 'target/release/waxend'), join(ROOT, 'target/debug/waxend')]);
}

/** The time in which a slow machine's development build fills the demo shop, in ms. */
const FILLING = 120_000;

/** The demo shop of a server with an empty folder: its data folder, and the path of the card that the server prints. */
async function demo(): Promise<{ data: string; card: string }> {
  const folder = await prepared('demo', async (folder) => {
    const data = join(folder, 'data');
    const server = new Program(binary(), ['--data', data, 'serve', '--listen', '127.0.0.1:0', '--demo-if-empty'], { WAXEND_APP: DIST });
    const card = await server.says(/care card: http:\/\/[^/]+(\/card\/\S+)/, FILLING);
    await server.stop();
    await writeFile(join(folder, 'card'), card);
  });
  return { data: join(folder, 'data'), card: await readFile(join(folder, 'card'), 'utf8') };
}

export class Waxend {
  /** The data folder. It stays after a stop and is deleted by {@link remove}. */
  readonly data: string;
  /** The server's address. It stays the same after a stop and a start. */
  url: string;
  #wishes: Wishes;
  #program: Program | undefined;
  #card = '';

  private constructor(data: string, port: number, wishes: Wishes) {
    this.data = data;
    this.url = `http://127.0.0.1:${port}`;
    this.#wishes = wishes;
  }

  static async start(wishes: Wishes = {}): Promise<Waxend> {
    const data = await mkdtemp(join(tmpdir(), 'waxend-'));
    const server = new Waxend(data, await freePort(), wishes);
    if (wishes.demo) {
      const shop = await demo();
      await cp(shop.data, data, { recursive: true });
      server.#card = shop.card;
    }
    await server.start();
    return server;
  }

  /** Starts it on its data folder and waits until it listens. */
  async start(): Promise<void> {
    const environment: Record<string, string> = this.#wishes.whole ? {} : { WAXEND_APP: this.#wishes.app ?? DIST };
    const listen = new URL(this.url).host;
    this.#program = new Program(binary(), ['--data', this.data, 'serve', '--listen', listen], environment);
    await this.#program.says(/Waxend listens on (\S+)/);
  }

  /** Asks it to stop and waits until it has. */
  async stop(): Promise<void> {
    await this.#program?.stop();
    this.#program = undefined;
  }

  /** Serves another build of the app from its next start on. */
  serve(app: string): void {
    this.#wishes = { ...this.#wishes, app };
  }

  /** Moves the server to another address. Nothing listens at the former one. */
  async move(): Promise<void> {
    await this.stop();
    this.url = `http://127.0.0.1:${await freePort()}`;
    await this.start();
  }

  /** Kills it without warning, as a power cut would. */
  async kill(): Promise<void> {
    await this.#program?.kill();
    this.#program = undefined;
  }

  /** Its process id. */
  get pid(): number {
    if (!this.#program) throw new Error('the server is not running');
    return this.#program.pid;
  }

  /** The address of the card that the server prints when it fills an empty folder with the demo. */
  get demoCard(): string {
    return this.url + this.#card;
  }

  /** Runs another command of the binary on this shop and returns its output. */
  async command(...args: string[]): Promise<string> {
    const { stdout } = await promisify(execFile)(binary(), ['--data', this.data, '--url', this.url, ...args]);
    return stdout;
  }

  /** A new join code, for one device. */
  async joinCode(): Promise<string> {
    const said = await this.command('join');
    const code = /Join code: (\S+)/.exec(said)?.[1];
    if (code === undefined) throw new Error(`no join code in:\n${said}`);
    return code;
  }

  /** A new link that opens the app with a join code filled in. */
  async joinLink(): Promise<string> {
    return `${this.url}/join#code=${await this.joinCode()}`;
  }

  /** Stops it and deletes its data folder. */
  async remove(): Promise<void> {
    await this.stop();
    await rm(this.data, { recursive: true, force: true });
  }
}
