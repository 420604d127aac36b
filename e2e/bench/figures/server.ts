/** The server with a shop in it: how much memory it needs, and how fast it answers a customer who opens a card. */
import { randomBytes } from 'node:crypto';

import { Waxend } from '../../helpers/waxend.ts';
import type { Figure, Measure } from '../figure.ts';
import { load } from '../http-load.ts';
import { peakMemory } from '../memory.ts';
import { ENTRIES_A_PAIR, fill, pictures, sender, Chronicle } from '../shop.ts';

const ENTRIES = 5_000;
const PHOTOS = 50;
/** The size of a photograph of 2048 px as the app stores it, roughly, in bytes. */
const PHOTO_BYTES = 450_000;
const CONNECTIONS = 8;
const REQUESTS = 4_000;

export const server: Figure = {
  name: 'server',
  async measure() {
    const shop = await Waxend.start();
    const empty = peakMemory(shop.pid);
    const health = await answers('health', `${shop.url}/health`);
    const card = await filled(shop);
    const memory = peakMemory(shop.pid);
    const cards = await answers('card', card);
    await shop.remove();
    return [
      ...cards,
      ...health,
      { what: `server memory, ${ENTRIES.toLocaleString('en')} entries and ${PHOTOS} photographs, peak`, unit: 'MB', ours: memory, target: { most: 80 } },
      { what: 'server memory, just started, peak', unit: 'MB', ours: empty },
    ];
  },
};

/** Sends the entries and the photographs of a pair with a card. Returns the card's address. */
async function filled(shop: Waxend): Promise<string> {
  await fill(shop, ENTRIES / ENTRIES_A_PAIR);
  const { push, put } = await sender(shop);
  const photos = pictures(PHOTOS, PHOTO_BYTES);
  for (const photo of photos) await put(photo);
  const secret = randomBytes(16).toString('hex');
  await push(new Chronicle(1).carded(secret, photos.slice(0, 6)));
  return `${shop.url}/card/${secret}`;
}

async function answers(what: string, url: string): Promise<Measure[]> {
  const { p50, p99 } = await load({ url, connections: CONNECTIONS, requests: REQUESTS });
  return [
    { what: `${what} answered, ${CONNECTIONS} keep-alive connections, p50`, unit: 'ms', ours: p50 },
    { what: `${what} answered, ${CONNECTIONS} keep-alive connections, p99`, unit: 'ms', ours: p99, target: { most: 10 } },
  ];
}
