/** A program that a test starts, whose output it reads, and which it ends. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';

/** How long to wait for a line of output, in ms. */
const PATIENCE = 20_000;

/** How many lines of output are kept for the message when something fails. */
const KEPT_LINES = 400;

export class Program {
  readonly #child: ChildProcess;
  readonly #name: string;
  readonly #lines: string[] = [];
  readonly #ended: Promise<unknown>;
  #listeners: (() => void)[] = [];

  constructor(command: string, args: string[], environment: Record<string, string> = {}) {
    this.#name = command.split('/').at(-1) ?? command;
    this.#child = spawn(command, args, {
      env: { ...process.env, ...environment },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.#ended = Promise.race([once(this.#child, 'exit'), once(this.#child, 'error')]);
    this.#child.once('error', (error) => this.#heard(String(error)));
    for (const stream of [this.#child.stdout, this.#child.stderr]) {
      if (stream) createInterface(stream).on('line', (line) => this.#heard(line));
    }
    // Ends the program even if the test run is interrupted.
    const kill = (): void => void this.#child.kill('SIGKILL');
    process.once('exit', kill);
    void this.#ended.then(() => process.off('exit', kill));
  }

  /** The process id. */
  get pid(): number {
    if (this.#child.pid === undefined) throw new Error(`${this.#name} did not start: ${this.output}`);
    return this.#child.pid;
  }

  /** The last lines of its output, of both streams. */
  get output(): string {
    return this.#lines.join('\n');
  }

  /** The first group of the first line of output that matches, within `patience` milliseconds. */
  async says(pattern: RegExp, patience = PATIENCE): Promise<string> {
    const deadline = AbortSignal.timeout(patience);
    for (;;) {
      for (const line of this.#lines) {
        const match = pattern.exec(line);
        if (match) return match[1] ?? match[0];
      }
      await this.#somethingNew(deadline, pattern);
    }
  }

  /** Asks it to stop and waits until it has. */
  async stop(): Promise<void> {
    await this.#end('SIGTERM');
  }

  /** Kills it without warning, as a power cut would. */
  async kill(): Promise<void> {
    await this.#end('SIGKILL');
  }

  async #end(signal: NodeJS.Signals): Promise<void> {
    if (this.#child.exitCode === null && this.#child.signalCode === null) this.#child.kill(signal);
    await this.#ended;
  }

  #heard(line: string): void {
    this.#lines.push(line);
    if (this.#lines.length > KEPT_LINES) this.#lines.shift();
    for (const listener of this.#listeners.splice(0)) listener();
  }

  async #somethingNew(deadline: AbortSignal, pattern: RegExp): Promise<void> {
    const news = new Promise<'line'>((resolve) => this.#listeners.push(() => resolve('line')));
    const late = new Promise<'late'>((resolve) => deadline.addEventListener('abort', () => resolve('late')));
    const end = this.#ended.then(() => 'ended' as const);
    const what = deadline.aborted ? 'late' : await Promise.race([news, late, end]);
    if (what !== 'line') throw new Error(`${this.#name} never said ${pattern} (${what}):\n${this.output}`);
  }
}
