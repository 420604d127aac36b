/** Tests of the failures that Chromium can simulate, on which the tests of failures depend. */
import { eventually } from '../helpers/watching.ts';
import { expect, chromiumTest as test } from '../helpers/test.ts';

test('a camera that was refused', async ({ site, newPhone }) => {
  const phone = await newPhone({ camera: 'denied' });
  await phone.open((await site()).url);
  const refusal = await phone.run(() =>
    navigator.mediaDevices.getUserMedia({ video: true }).then(() => 'given', (error: Error) => error.name),
  );
  expect(refusal).toBe('NotAllowedError');
});

test('a disk that is full, and has room again', async ({ site, newPhone }) => {
  const { url } = await site();
  const phone = await newPhone();
  await phone.allowance(8_000_000, url);
  await phone.open(url);
  await phone.finds('[data-ready=bench]');
  expect(await phone.run(store, 100_000)).toBe('stored');
  expect(await phone.fillDisk()).toBeGreaterThan(1_000_000);
  expect(await phone.run(store, 100_000)).toBe('QuotaExceededError');
  await phone.freeDisk();
  await eventually('there is room again', async () => (await phone.run(store, 100_000)) === 'stored');
});

test('a tab that the system ends', async ({ site, newPhone }) => {
  const { url } = await site();
  const phone = await newPhone();
  await phone.open(url);
  await phone.run(store, 10);
  await phone.killTab();
  await phone.open(url);
  expect(await phone.run(async () => (await indexedDB.databases()).map(({ name }) => name ?? ''))).toContain('trouble-test');
});

/** In the page: stores so many bytes. Returns whether that worked. */
async function store(bytes: number): Promise<string> {
  const opening = indexedDB.open('trouble-test', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('bytes');
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  const change = database.transaction('bytes', 'readwrite', { durability: 'strict' });
  change.objectStore('bytes').put(crypto.getRandomValues(new Uint8Array(65_536)), 'noise');
  for (let at = 65_536; at < bytes; at += 65_536) {
    change.objectStore('bytes').put(crypto.getRandomValues(new Uint8Array(65_536)), at);
  }
  const end = await new Promise<string>((resolve) => {
    change.oncomplete = () => resolve('stored');
    change.onabort = () => resolve(change.error?.name ?? 'aborted');
  });
  database.close();
  return end;
}
