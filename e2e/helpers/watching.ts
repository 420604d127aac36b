/** Waiting: for a condition, never for a time. What both phones share. */
import type { Plain } from './phone.ts';

/** How long a phone waits for anything, in ms: much longer than it should take, for only what fails waits so long. */
export const PATIENCE = 60_000;
/** How often it looks, in ms. */
const GLANCE = 50;

/** Looks again and again until `look` returns something true. `why` is asked for more when that was in vain. */
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

/** In the page: whether it can be read there. */
function readable(text: string): boolean {
  const plain = (string: string): string => string.replace(/\s+/g, ' ').trim();
  return plain(document.body?.innerText ?? '').includes(plain(text));
}

/** In the page: whether there is a page, and it cannot be read there. */
function unreadable(text: string): boolean {
  const plain = (string: string): string => string.replace(/\s+/g, ' ').trim();
  return document.body !== null && !plain(document.body.innerText).includes(plain(text));
}

/** In the page: how many elements match. */
function countOf(selector: string): number {
  return document.querySelectorAll(selector).length;
}

/** What can be said of a page by asking it again and again. */
export abstract class Watching {
  abstract run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R>;

  /** The same for work that changes nothing in the page. */
  protected async look<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R> {
    return this.run(work, ...args);
  }

  /** Passes over what a driver says of a page that is just being replaced; throws anything else. */
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
