/** Waits for conditions, never for a time. Shared by all phones. */
import type { Plain } from './phone.ts';

/**
 * How long to wait for a condition, in ms: much longer than it should take, since only a failing test waits so long.
 */
export const PATIENCE = 60_000;
/** The ms between two looks. */
const GLANCE = 50;

/** Calls `look` again and again until it returns a truthy value. `why` adds to the message if that takes too long. */
export async function eventually<R>(
  what: string,
  look: () => Promise<R>,
  why = (): string => '',
  patience = PATIENCE,
): Promise<NonNullable<R>> {
  const deadline = Date.now() + patience;
  for (;;) {
    const seen = await look();
    if (seen) return seen;
    if (Date.now() > deadline) throw new Error(`waited ${patience} ms in vain: ${what}${why()}`);
    await new Promise((resolve) => setTimeout(resolve, GLANCE));
  }
}

/** In the page: whether this text is shown. */
function readable(text: string): boolean {
  const plain = (string: string): string => string.replace(/\s+/g, ' ').trim();
  return plain(document.body?.innerText ?? '').includes(plain(text));
}

/** In the page: whether the page has a body and does not show this text. */
function unreadable(text: string): boolean {
  const plain = (string: string): string => string.replace(/\s+/g, ' ').trim();
  return document.body !== null && !plain(document.body.innerText).includes(plain(text));
}

/** In the page: how many elements match this selector. */
function countOf(selector: string): number {
  return document.querySelectorAll(selector).length;
}

/** What can be found out about a page by looking at it repeatedly. */
export abstract class Watching {
  abstract run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R>;

  /** The same as `run`, for functions that change nothing in the page. */
  protected async look<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    return this.run(work, ...args);
  }

  /** Ignores a driver's error about a page that is being replaced; throws any other one. */
  protected abstract passOver(error: unknown): undefined;

  async until<A extends Plain[], R>(what: string, work: (...args: A) => R | Promise<R>, ...args: A): Promise<NonNullable<R>> {
    return eventually(what, () => this.look(work, ...args).catch((error: unknown) => this.passOver(error)));
  }

  async sees(text: string): Promise<void> {
    await this.until(`"${text}" is on the page`, readable, text);
  }

  async seesNo(text: string): Promise<void> {
    await this.until(`"${text}" is gone`, unreadable, text);
  }

  async finds(selector: string): Promise<void> {
    await this.until(`${selector} is on the page`, countOf, selector);
  }

  async count(selector: string): Promise<number> {
    return this.look(countOf, selector);
  }
}
