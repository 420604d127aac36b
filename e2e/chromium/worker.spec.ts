/** The service worker: what it caches, what it leaves alone, and how a new build is installed. */
import { readFile, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

import { assetsOf, buildLabelled, buildNameOf, versionOf } from '../helpers/build.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { DIST } from '../helpers/paths.ts';
import { eventually } from '../helpers/watching.ts';
import { chromiumTest as test, expect } from '../helpers/test.ts';

/** Opens the app at this address and waits until it works offline. */
async function settled(phone: ChromiumPhone, url: string): Promise<ChromiumPhone> {
  await phone.open(url);
  await phone.until('the worker holds the page', () => navigator.serviceWorker.controller !== null);
  return phone;
}

const buildShown = (phone: ChromiumPhone): Promise<string> =>
  phone.run(() => document.querySelector<HTMLMetaElement>('meta[name=build]')?.content ?? '');

const shows = (build: string): boolean =>
  document.querySelector<HTMLMetaElement>('meta[name=build]')?.content === build;

const nameOf = (dist: string): string => `waxend-app-${versionOf(dist)}`;

const cachesOf = (phone: ChromiumPhone): Promise<string[]> => phone.run(() => caches.keys());

const statusOf = (phone: ChromiumPhone, path: string): Promise<number> =>
  phone.run(async (asked: string) => (await fetch(asked)).status, path);

test('the build on the device is every file of the build on disk', async ({ site, newPhone }) => {
  const onDisk = (await readdir(DIST, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && !/\.(br|gz)$/.test(entry.name))
    .map((entry) => `/${join(entry.parentPath, entry.name).slice(DIST.length)}`);
  expect(assetsOf().sort()).toEqual(onDisk.filter((path) => path !== '/sw.js').sort());

  const phone = await settled(await newPhone(), (await site()).url);
  const kept = await phone.run(async (name: string) => {
    const cache = await caches.open(name);
    return (await cache.keys()).map((request) => new URL(request.url).pathname);
  }, nameOf(DIST));
  expect(kept.sort()).toEqual(assetsOf().sort());
});

test('a new tab starts cold with no network at all', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  await phone.network('off');
  await server.stop();
  const tab = await phone.newTab();
  await tab.open(`${server.url}/drop-off`);
  await tab.finds('main');
  expect(tab.complaints.filter((line) => !/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/.test(line))).toEqual([]);
});

test('a build that arrives broken is not taken in, and the one before it goes on', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  server.folder = buildLabelled('broken');
  const lost = assetsOf(server.folder).find((path) => path.includes('/icon-512-'))!;
  server.lost.add(lost);

  await phone.reload();
  await eventually('the worker asks for the lost file', async () => server.requests.includes(`GET ${lost}`));
  await phone.until('the worker has given up', async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.installing === null && registration.waiting === null;
  });
  await server.stop();
  await phone.reload();
  await phone.until('the former build is shown', shows, buildNameOf());
  await phone.finds('[data-ready=bench]');
});

test('what is missing stays missing, and the server keeps what is its own', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  expect(await statusOf(phone, '/pkg/app-0000000000000000.wasm')).toBe(404);
  expect(await statusOf(phone, '/api/v1/anything')).toBe(200);
  expect(server.requests).toContain('GET /api/v1/anything');

  for (const path of ['/card/0123456789abcdef', '/health']) {
    await phone.open(`${server.url}${path}`);
    await phone.sees(`The server itself: GET ${path}`);
  }
  await server.stop();
  await expect(phone.open(`${server.url}/card/0123456789abcdef`)).rejects.toThrow(/ERR_CONNECTION_REFUSED/);
});

test('a POST is never answered from the device', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  await phone.run(async () => void (await fetch('/index.html', { method: 'POST' })));
  expect(server.requests).toContain('POST /index.html');
});

test('a new build waits for the word, then takes over whole', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  const next = buildLabelled('next');
  server.folder = next;

  // The app looks for a new build when it is loaded. The new build is fetched and waits.
  await phone.reload();
  await phone.sees('Restart with the new version');
  expect(await buildShown(phone)).toBe(buildNameOf());
  await phone.reload();
  await phone.sees('Restart with the new version');
  expect(await buildShown(phone)).toBe(buildNameOf());
  expect((await cachesOf(phone)).sort()).toEqual([nameOf(DIST), nameOf(next)].sort());

  await phone.press('Restart with the new version');
  await phone.until('the new build is shown', shows, buildNameOf(next));
  await phone.finds('[data-ready=bench]');
  await phone.until('the former build is gone', async (name: string) => !(await caches.has(name)), nameOf(DIST));

  // The new build no longer needs the server.
  await server.stop();
  await phone.reload();
  await phone.until('the new build starts by itself', shows, buildNameOf(next));
  await phone.finds('[data-ready=bench]');
});

test('a new build that is slow to take over is not lost to a reload', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  const next = buildLabelled('slow');
  // The service worker of this build receives the message and waits for the server before it takes over.
  const worker = join(next, 'sw.js');
  const script = await readFile(worker, 'utf8');
  const slow = script.replace(/self\.skipWaiting\(\)/, "event.waitUntil(fetch('/api/v1/busy').then(() => self.skipWaiting()))");
  expect(slow).not.toBe(script);
  await writeFile(worker, slow);
  let free = (): void => undefined;
  server.held.set('/api/v1/busy', new Promise((resolve) => (free = resolve)));
  server.folder = next;
  await phone.reload();
  await phone.sees('Restart with the new version');

  await phone.page.clock.install();
  await phone.run(() => void document.body.append('still the same page'));
  await phone.press('Restart with the new version');
  await phone.sees('Starting the new version …');
  const heard = (): number => server.requests.filter((line) => line === 'GET /api/v1/busy').length;
  await eventually('the new worker has heard the word', async () => heard() > 0);
  const before = heard();
  await phone.page.clock.fastForward(5_000);
  await eventually('it hears the word again', async () => heard() > before);
  await phone.sees('still the same page');

  free();
  await phone.until('the new build is shown', shows, buildNameOf(next));
  await phone.finds('[data-ready=bench]');
});

test('letting a new build in leaves another open tab as it is', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await settled(await newPhone(), server.url);
  const other = await phone.newTab();
  await other.open(server.url);
  await other.finds('[data-ready=bench]');
  await other.run(() => void document.body.append('half a word'));

  const next = buildLabelled('next');
  server.folder = next;
  await phone.reload();
  await phone.press('Restart with the new version');
  await phone.until('the new build is shown', shows, buildNameOf(next));

  await other.sees('half a word');
  await other.press('Restart with the new version');
  await other.until('the new build is shown', shows, buildNameOf(next));
});

test('a first visit is not reloaded by its own worker', async ({ site, newPhone }) => {
  const server = await site();
  const phone = await newPhone();
  await phone.open(server.url);
  // If the app reloads the page when the worker takes it over, it has done so one frame later.
  await phone.run(async () => {
    if (navigator.serviceWorker.controller) return;
    await new Promise((taken) => navigator.serviceWorker.addEventListener('controllerchange', taken));
    await new Promise((next) => requestAnimationFrame(next));
  });
  await phone.finds('[data-ready=bench]');
  expect(server.requests.filter((line) => line === 'GET /')).toHaveLength(1);
});
