/** A device without an app: it joins a shop like any other, and sends entries that a test has made. */
import { randomBytes } from 'node:crypto';

import type { Waxend } from './waxend.ts';

/** An entry as it is sent. */
export interface Entry {
  id: string;
  subject: { kind: string; id: string };
  stamp: { ms: number; counter: number };
  made_at: { utc: number; offset_min: number };
  device: string;
  device_seq: number;
  kind: string;
  version: number;
  body: string;
}

/** Makes entries, each a fixed time after the one before. */
export class Writer {
  readonly #device = uuid(4, Date.now());
  readonly #step: number;
  #seq = 0;
  #ms: number;

  constructor(begin: number, step: number) {
    this.#ms = begin;
    this.#step = step;
  }

  subject(): string {
    return uuid(7, this.#ms);
  }

  entry(kind: string, id: string, word: string, body: object): Entry {
    this.#seq += 1;
    this.#ms += this.#step;
    return {
      id: uuid(7, this.#ms),
      subject: { kind, id },
      stamp: { ms: this.#ms, counter: this.#seq },
      made_at: { utc: this.#ms, offset_min: 60 },
      device: this.#device,
      device_seq: this.#seq,
      kind: word,
      version: 1,
      body: JSON.stringify(body),
    };
  }
}

/** A device that has joined: a function that sends entries, the token for other requests, and the shop's own subject. */
export interface JoinedWriter {
  push: (entries: Entry[]) => Promise<void>;
  token: string;
  shop: string;
}

/** Joins the shop. */
export async function joinedWriter(server: Waxend): Promise<JoinedWriter> {
  const ask = async (path: string, body: object, token?: string): Promise<unknown> => {
    const headers: Record<string, string> = { 'content-type': 'application/json' };
    if (token !== undefined) headers['authorization'] = `Bearer ${token}`;
    const answer = await fetch(`${server.url}/api/v1/${path}`, { method: 'POST', headers, body: JSON.stringify(body) });
    if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
    return answer.json();
  };
  const request = { code: await server.joinCode(), device: uuid(4, Date.now()), name: 'writer' };
  const { token, shop } = (await ask('join', request)) as { token: string; shop: string };
  const push = async (entries: Entry[]): Promise<void> => {
    const { results } = (await ask('entries', { entries: entries.map((entry) => ({ entry })) }, token)) as { results: object[] };
    const refused = results.filter((result) => !('accepted' in result));
    if (refused.length > 0) throw new Error(`refused: ${JSON.stringify(refused[0])}`);
  };
  return { push, token, shop };
}

/** A UUID of this version (RFC 9562). Version 7 contains the time. */
export function uuid(version: 4 | 7, ms: number): string {
  const bytes = randomBytes(16);
  if (version === 7) bytes.writeUIntBE(ms, 0, 6);
  bytes[6] = (bytes[6]! & 0x0f) | (version << 4);
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  return bytes.toString('hex').replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/, '$1-$2-$3-$4-$5');
}
