/** A shop with years of work in it, made with the server's own API as another device would have made it. */
import { createHash, randomBytes } from 'node:crypto';

import type { Waxend } from '../helpers/waxend.ts';
import { Writer, joinedWriter, uuid, type Entry } from '../helpers/writer.ts';

/** Entries per pair on average: opened, described, two jobs with tickets, agreed work, steps, handed over. */
export const ENTRIES_A_PAIR = 20;
/** Pairs that are in the shop at the end; the others were handed over. */
const IN_SHOP = 40;
/** Entries in one push, about 1 MB. */
const BATCH = 1_800;
/** How long the shop has recorded entries, in ms. The last one was made just now. */
const TEN_YEARS = 3_652 * 24 * 60 * 60_000;

/** Writes the histories of pairs. */
export class Chronicle extends Writer {
  /** Writes `pairs` pairs, evenly over the shop's years. */
  constructor(pairs: number) {
    super(Date.now() - TEN_YEARS, Math.floor(TEN_YEARS / (pairs * ENTRIES_A_PAIR)));
  }

  /** The whole history of one pair. */
  pair(number: number, stage: 'in the shop' | 'gone home'): Entry[] {
    const [customer, pair] = [this.subject(), this.subject()];
    const entries = [
      this.entry('customer', customer, 'opened', {}),
      this.entry('customer', customer, 'detail', { field: 'name', value: `Customer ${number}` }),
      this.entry('customer', customer, 'detail', { field: 'phone', value: `555 ${String(number).padStart(6, '0')}` }),
      this.entry('pair', pair, 'opened', { customer }),
      this.entry('pair', pair, 'detail', { field: 'look', value: ['derby', 'walking boot', 'court shoe', 'chelsea boot'][number % 4] }),
      this.entry('pair', pair, 'detail', { field: 'colour', value: ['chestnut', 'black', 'oxblood', 'tan'][number % 4] }),
    ];
    entries.push(...this.#job(customer, pair, `A${number}`, 'gone home'));
    entries.push(...this.#job(customer, pair, `B${number}`, stage));
    return entries;
  }

  /** The entries of a pair with a care card that shows these photographs. `secret` is that of the card's link. */
  carded(secret: string, photos: Picture[]): Entry[] {
    const [pair, job] = [this.subject(), this.subject()];
    const shown = photos.map(({ sha256, bytes }, at) => ({
      blob: { sha256, media_type: 'image/jpeg', bytes: bytes.length, width: 2048, height: 1536 },
      caption: at === 0 ? 'Before' : `Step ${at}`,
    }));
    const section = { title: 'chestnut derby', day: '2026-12-04', done: ['New half soles where the forepart was worn.'], photos: shown };
    return [
      this.entry('pair', pair, 'opened', {}),
      this.entry('pair', pair, 'card_link', { secret }),
      this.entry('job', job, 'opened', { pair }),
      this.entry('job', job, 'published', { pair, section }),
    ];
  }

  #job(customer: string, pair: string, tag: string, stage: 'in the shop' | 'gone home'): Entry[] {
    const [ticket, job] = [this.subject(), this.subject()];
    const work = [
      this.entry('ticket', ticket, 'opened', { customer }),
      this.entry('ticket', ticket, 'detail', { field: 'day', value: '2026-12-04' }),
      this.entry('job', job, 'opened', { pair, ticket }),
      this.entry('job', job, 'detail', { field: 'tag', value: tag }),
      this.entry('job', job, 'agreed', { operation: 'half_sole', side: 'both', price_minor: 6500 }),
      this.entry('job', job, 'step', { operation: 'half_sole', side: 'both', note: 'old cement off, roughened' }),
    ];
    const last = stage === 'gone home' ? this.entry('job', job, 'handed_over', {}) : this.entry('job', job, 'note', { text: 'left heel soft' });
    return [...work, last];
  }
}

/** A photograph as a device sends it. */
export interface Picture {
  sha256: string;
  bytes: Buffer;
}

/**
 * `count` photographs of `size` bytes each: the first bytes of a JPEG, then random ones, since compressed pictures are
 * hardly compressible.
 */
export function pictures(count: number, size: number): Picture[] {
  return Array.from({ length: count }, () => {
    const bytes = Buffer.concat([Buffer.from('ffd8ffe000104a46494600010100000100010000', 'hex'), randomBytes(size)]);
    return { sha256: createHash('sha256').update(bytes).digest('hex'), bytes };
  });
}

/** A joined device that can send. */
export interface Sender {
  push(entries: Entry[]): Promise<void>;
  put(picture: Picture): Promise<void>;
}

/**
 * Fills the server with so many pairs of {@link ENTRIES_A_PAIR} entries each; {@link IN_SHOP} of them are in the shop.
 */
export async function fill(server: Waxend, pairs: number): Promise<void> {
  const { push } = await sender(server);
  const writer = new Chronicle(pairs);
  let waiting: Entry[] = [];
  for (let number = 0; number < pairs; number += 1) {
    waiting.push(...writer.pair(number, number >= pairs - IN_SHOP ? 'in the shop' : 'gone home'));
    if (waiting.length >= BATCH || number === pairs - 1) {
      await push(waiting);
      waiting = [];
    }
  }
}

/** The backup file of a phone that worked alone on so many pairs, {@link ENTRIES_A_PAIR} entries each. */
export function backupOf(pairs: number): Buffer {
  const writer = new Chronicle(pairs);
  const lives = Array.from({ length: pairs }, (_, number) => writer.pair(number, number >= pairs - IN_SHOP ? 'in the shop' : 'gone home'));
  const records = lives.flat().map((entry) => JSON.stringify({ held: { entry }, unsent: true }));
  const about = { made: Date.now(), device: uuid(4, 0), own_shop: uuid(7, Date.now() - TEN_YEARS), erasures: {} };
  const sections = { entries: `${records.join('\n')}\n`, about: JSON.stringify(about) };
  let [file, lines] = ['', ''];
  const line = (text: string): void => {
    file += `${text}\n`;
    lines += `${text}\n`;
  };
  line('waxend-backup 1');
  for (const [section, text] of Object.entries(sections)) {
    line(JSON.stringify({ section, bytes: Buffer.byteLength(text), sha256: sha256(text) }));
    file += `${text}\n`;
  }
  return Buffer.from(`${file}end ${Object.keys(sections).length} ${sha256(lines)}\n`);
}

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

/** Joins the shop. Returns functions that send entries and photographs. */
export async function sender(server: Waxend): Promise<Sender> {
  const { push, token } = await joinedWriter(server);
  const put = async ({ sha256, bytes }: Picture): Promise<void> => {
    const headers = { 'content-type': 'image/jpeg', authorization: `Bearer ${token}` };
    const answer = await fetch(`${server.url}/api/v1/blobs/${sha256}`, { method: 'PUT', headers, body: new Uint8Array(bytes) });
    if (!answer.ok) throw new Error(`blob: ${answer.status} ${await answer.text()}`);
  };
  return { push, put };
}
