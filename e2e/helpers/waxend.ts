/** The real server, as a shop runs it, on a data folder of its own. */
import { execFile } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

import { DIST, ROOT, firstOf } from './paths.ts';
import { freePort } from './port.ts';
import { prepared } from './prepared.ts';
import { Program } from './program.ts';

/** How a test wants its server. */
export interface Wishes {
  /** The demo shop instead of an empty one. */
  demo?: boolean;
  /** The build of the app that it serves. */
  app?: string;
  /** The app inside the binary, which `make e2e` has put there. */
  whole?: boolean;
}

/** The binary: `WAXEND_BIN`, else the release build, else the development build. */
export function binary(): string {
  const named = process.env['WAXEND_BIN'];
  return named ?? firstOf('waxend binary', [join(ROOT, 'target/release/waxend'), join(ROOT, 'target/debug/waxend')]);
}

/** A slow machine's development build fills the demo shop in this time, in milliseconds. */
const FILLING = 120_000;

/** The demo shop as a server fills an empty folder with it: its data, and the path of the card that the server names. */
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
  /** The data folder; it outlives a stop and is deleted by {@link remove}. */
  readonly data: string;
  /** Where the server is reached: the same address after a stop and a start. */
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

  /** Asks it to stop, as an orderly shutdown does. */
  async stop(): Promise<void> {
    await this.#program?.stop();
    this.#program = undefined;
  }

  /** From its next start on it serves another build of the app. */
  serve(app: string): void {
    this.#wishes = { ...this.#wishes, app };
  }

  /** Moves the shop to another address. Nobody answers at the old one. */
  async move(): Promise<void> {
    await this.stop();
    this.url = `http://127.0.0.1:${await freePort()}`;
    await this.start();
  }

  /** Ends it as a power cut does. */
  async kill(): Promise<void> {
    await this.#program?.kill();
    this.#program = undefined;
  }

  /** Its process, for whoever measures it. */
  get pid(): number {
    if (!this.#program) throw new Error('the server is not running');
    return this.#program.pid;
  }

  /** The address of the card that the server names when it fills an empty folder with the demo. */
  get demoCard(): string {
    return this.url + this.#card;
  }

  /** Runs another command of the binary on this shop and returns what it prints. */
  async command(...args: string[]): Promise<string> {
    const { stdout } = await promisify(execFile)(binary(), ['--data', this.data, '--url', this.url, ...args]);
    return stdout;
  }

  /** A new code that lets one device join. */
  async joinCode(): Promise<string> {
    const said = await this.command('join');
    const code = /Join code: (\S+)/.exec(said)?.[1];
    if (code === undefined) throw new Error(`no join code in:\n${said}`);
    return code;
  }

  /** A new link that opens the app with a code filled in. */
  async joinLink(): Promise<string> {
    return `${this.url}/join#code=${await this.joinCode()}`;
  }

  /** Stops it and deletes the shop. */
  async remove(): Promise<void> {
    await this.stop();
    await rm(this.data, { recursive: true, force: true });
  }
}
