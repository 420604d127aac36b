/**
 * Times that a repairer waits for at the bench: until a photograph is stored, and until 5,000 entries are sent or
 * received.
 */
import { cp, rm } from 'node:fs/promises';

import { ChromiumPhone, startChromium } from '../../helpers/chromium.ts';
import { Waxend } from '../../helpers/waxend.ts';
import { joined, takeIn } from '../../helpers/work.ts';
import { keepPhotos } from '../bare/photo.ts';
import { storeRecords } from '../bare/records.ts';
import type { Figure, Measure } from '../figure.ts';
import { backupOf, ENTRIES_A_PAIR, fill } from '../shop.ts';
import { median, percentile } from '../statistics.ts';
import { CAMERA } from './platform.ts';

const PHOTOS = 30;
const ENTRIES = 5_000;
/** The target of each direction of sync. */
const target = { most: 0.6 };

export const benchWork: Figure = {
  name: 'bench-work',
  async measure() {
    const browser = await startChromium(CAMERA);
    const measures: Measure[] = [];
    for (const part of [shutter, pulling, pushing, mending]) measures.push(...(await part(await ChromiumPhone.start(browser))));
    await browser.close();
    return measures;
  },
};

/**
 * The ms from the tap until the count of saved photographs changes, which happens only when the bytes are on the disk.
 * Half of the measurements on the bare platform are made before and half after, because a browser is slower before its
 * first encoding and while it has other things to do.
 */
async function shutter(phone: ChromiumPhone): Promise<Measure[]> {
  const server = await Waxend.start();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await phone.until('the shutter is ready', () => document.querySelector('.shutter:not([disabled])') !== null);
  const bare = await phone.run(keepPhotos, PHOTOS / 2);
  const ours = await phone.run(async (times: number) => {
    const took: number[] = [];
    const saved = (): number => Number(document.querySelector('[data-count=saved]')?.textContent);
    for (let taken = 0; taken < times; taken += 1) {
      const before = saved();
      const began = performance.now();
      // The page reports the change itself. Looking again and again would take time too.
      const counted = new Promise<void>((done) => {
        const watching = new MutationObserver(() => {
          if (saved() === before) return;
          watching.disconnect();
          done();
        });
        watching.observe(document.body, { subtree: true, childList: true, characterData: true });
      });
      document.querySelector<HTMLButtonElement>('.shutter')?.click();
      await counted;
      took.push(performance.now() - began);
    }
    return took;
  }, PHOTOS);
  bare.push(...(await phone.run(keepPhotos, PHOTOS / 2)));
  await server.remove();
  const close = { timesBare: 1.5 };
  return [
    { what: 'shutter to saved, 2048 px, median of 30', unit: 'ms', ours: median(ours), bare: median(bare), target: close },
    { what: 'shutter to saved, 2048 px, p95 of 30', unit: 'ms', ours: percentile(ours, 0.95), bare: percentile(bare, 0.95), target: close },
  ];
}

/** Receives 5,000 entries on a device that has none. */
async function pulling(phone: ChromiumPhone): Promise<Measure[]> {
  const server = await Waxend.start();
  await upToDate(phone, server);
  await fill(server, ENTRIES / ENTRIES_A_PAIR);
  const ours = await syncing(phone, ENTRIES);
  const bare = await phone.run(storeRecords, ENTRIES);
  await server.remove();
  return [{ what: '5,000 entries pulled into an empty device', unit: 's', ours: ours / 1000, bare: bare / 1000, target }];
}

/**
 * Sends 5,000 entries that no server has, until each is acknowledged. They come onto the device as so many would: from
 * the backup file of a phone that worked alone, restored while the server was unreachable.
 */
async function pushing(phone: ChromiumPhone): Promise<Measure[]> {
  const server = await Waxend.start();
  await upToDate(phone, server);
  await server.stop();
  await restored(phone, backupOf(ENTRIES / ENTRIES_A_PAIR));
  await server.start();
  const ours = await syncing(phone, ENTRIES);
  const bare = await phone.run(storeRecords, ENTRIES);
  await server.remove();
  return [{ what: '5,000 entries pushed', unit: 's', ours: ours / 1000, bare: bare / 1000, target }];
}

/** Sends 5,000 entries again to a server whose database was replaced by an empty copy without its knowledge. */
async function mending(phone: ChromiumPhone): Promise<Measure[]> {
  const server = await Waxend.start();
  await upToDate(phone, server);
  await server.stop();
  const empty = `${server.data}-empty`;
  await cp(server.data, empty, { recursive: true });
  await server.start();
  await fill(server, ENTRIES / ENTRIES_A_PAIR);
  await syncing(phone, ENTRIES);
  await server.stop();
  await rm(server.data, { recursive: true });
  await cp(empty, server.data, { recursive: true });
  await server.start();
  const ours = await syncing(phone, ENTRIES);
  const bare = await phone.run(storeRecords, ENTRIES);
  await server.remove();
  await rm(empty, { recursive: true });
  return [{ what: '5,000 entries returned to a server set back (read, compare, push)', unit: 's', ours: ours / 1000, bare: bare / 1000 }];
}

/** Joins and opens the screen with the state of sync; everything is sent and received then. */
async function upToDate(phone: ChromiumPhone, server: Waxend): Promise<void> {
  await joined(phone, server);
  await phone.press('Shop', 'link');
  await phone.finds('[data-phase=up-to-date]');
}

/** Restores a backup file. */
async function restored(phone: ChromiumPhone, backup: Buffer): Promise<void> {
  const file = { name: 'phone.waxend', mimeType: 'application/octet-stream', buffer: backup };
  await phone.page.getByLabel('Read a backup file in').setInputFiles(file);
  await phone.sees('The backup is on this device now.');
}

/** Presses the button and waits until the device has so many entries and nothing is unsent. Returns the ms. */
async function syncing(phone: ChromiumPhone, entries: number): Promise<number> {
  return phone.run(async (all: number) => {
    const began = performance.now();
    const button = [...document.querySelectorAll('button')].find((one) => one.textContent === 'Sync now');
    button?.click();
    const phase = (): string => document.querySelector('[data-phase]')?.getAttribute('data-phase') ?? '';
    const count = (what: string): number => Number(document.querySelector(`[data-count=${what}]`)?.textContent);
    while (phase() === 'up-to-date') await new Promise((next) => setTimeout(next));
    while (!(phase() === 'up-to-date' && count('entries') >= all && count('unsent') === 0)) await new Promise((next) => setTimeout(next));
    return performance.now() - began;
  }, entries);
}
