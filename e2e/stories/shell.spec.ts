/** The app's shell in both browsers: it starts, is stored on the device, and has there what it needs. */
import { breaches, expect, test } from '../helpers/test.ts';

test('starts from the device with the server gone', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await newPhone();
  await phone.open(server.url);
  await phone.finds('[data-ready=bench]');
  await phone.until('the worker holds the page', async () => {
    await navigator.serviceWorker.ready;
    return navigator.serviceWorker.controller !== null;
  });

  await server.stop();
  await phone.reload();
  await phone.finds('[data-ready=bench]');
});

test('a deep address starts from the device too', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await newPhone();
  await phone.open(server.url);
  await phone.until('the worker holds the page', () => navigator.serviceWorker.controller !== null);

  await server.stop();
  await phone.open(`${server.url}/records`);
  await phone.finds('main');
  expect(await phone.address()).toBe(`${server.url}/records`);
});

test('the camera delivers pictures that move', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  const moved = await phone.run(async () => {
    const video = document.createElement('video');
    video.muted = true;
    video.playsInline = true;
    video.srcObject = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
    await video.play();
    const canvas = new OffscreenCanvas(64, 48);
    const context = canvas.getContext('2d', { willReadFrequently: true })!;
    const frame = (): string => {
      context.drawImage(video, 0, 0, 64, 48);
      return context.getImageData(0, 0, 64, 48).data.join();
    };
    const first = frame();
    while (frame() === first) await new Promise((next) => requestAnimationFrame(next));
    return { width: video.videoWidth, blank: new Set(first.split(',')).size < 4 };
  });
  expect(moved.width).toBeGreaterThan(0);
  expect(moved.blank).toBe(false);
});

test('bytes written to the device are there after a reload', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.run(withTable, 'put');
  await phone.reload();
  expect(await phone.run(withTable, 'get')).toEqual([1, 2, 3]);
});

test('the first screen breaks no accessibility rule', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  expect(await breaches(phone)).toEqual([]);
});

/** In the page: stores three bytes in a table as a photograph is stored, or reads them. */
async function withTable(work: 'put' | 'get'): Promise<number[]> {
  const done = <T>(request: IDBRequest<T>): Promise<T> =>
    new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  const opening = indexedDB.open('shell-test', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('bytes');
  const database = await done(opening);
  const change = database.transaction('bytes', 'readwrite', { durability: 'strict' });
  const committed = new Promise((resolve, reject) => {
    change.oncomplete = resolve;
    change.onabort = () => reject(change.error);
  });
  const table = change.objectStore('bytes');
  const found = work === 'get' ? await done(table.get('photo')) : await done(table.put(new Uint8Array([1, 2, 3]).buffer, 'photo'));
  await committed;
  database.close();
  return found instanceof ArrayBuffer ? [...new Uint8Array(found)] : [];
}
