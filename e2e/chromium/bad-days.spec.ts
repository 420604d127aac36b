/** Failures in the real app: nothing that was shown as saved is lost, and the app says what to do. */
import { readFile } from 'node:fs/promises';

import { buildLabelled, buildNameOf } from '../helpers/build.ts';
import { publishedCard } from '../helpers/card.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { chromiumTest as test, expect } from '../helpers/test.ts';
import { checked, joined, leaveCamera, openLife, shoot, synced, takeIn } from '../helpers/work.ts';

const BOOT = { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack' };

/** Waits until the pair's page shows `expected` photographs. */
async function photographsOf(phone: ChromiumPhone, tag: string, expected: number): Promise<void> {
  await openLife(phone, tag);
  await phone.until(
    `${expected} photographs are on the page`,
    (count) => document.querySelectorAll('.photograph img').length >= count,
    expected,
  );
}

test('the tab is killed while photographs are being saved: all that were shown as saved are there', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();
  await takeIn(phone, BOOT);
  await shoot(phone, 2);
  for (let more = 0; more < 3; more += 1) await phone.press(/^Photograph /);
  const shown = await phone.run(() => Number(document.querySelector('[data-count=saved]')?.textContent));
  await phone.killTab();
  await phone.open(server.url);
  await photographsOf(phone, 'A1', shown);
});

test('a wrong code leaves what was typed, and works once it is right', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await phone.open(`${server.url}/join`);
  await phone.fill('What this device is called', 'Counter');
  await phone.fill('Code', 'AAAA-AAAA');
  await phone.press('Join');
  await phone.sees('This join code is not known');
  expect(await phone.page.getByLabel('Code').inputValue()).toBe('AAAA-AAAA');
  await phone.fill('Code', (await server.joinCode()).toLowerCase().replace('-', ' '));
  await phone.press('Join');
  await phone.sees('This device has joined the shop.');
});

test('a device that is shut out keeps what was never sent and nothing else, says so, and joins again', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shoot(phone, 1);
  await synced(phone);
  const device = /[0-9a-f]{8}-[0-9a-f-]{27}/.exec(await server.command('devices'))?.[0] ?? '';
  await server.stop();
  await server.command('devices', 'revoke', device);
  await server.start();
  await takeIn(phone, { ...BOOT, look: 'court shoe' });
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.run(() => void window.dispatchEvent(new Event('focus')));
  await phone.sees('The shop has shut this device out.');
  await phone.sees("What the shop's server has was deleted from this device.");
  await phone.press('Bench', 'link');
  await phone.sees('chestnut court shoe');
  await phone.seesNo('walking boot');
  await phone.press('Join again', 'link');
  await phone.fill('Code', await server.joinCode());
  await phone.press('Join');
  await phone.sees('This device has joined the shop.');
  await synced(phone);
  await phone.press('Bench', 'link');
  await phone.sees('chestnut court shoe');
  await phone.sees('chestnut walking boot');
});

test('a new build waits while work is unsent, and nothing of it is lost in the change', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();
  await takeIn(phone, BOOT);
  await shoot(phone, 2);
  const next = buildLabelled('bad-days');
  server.serve(next);
  await server.start();
  await phone.press('Bench', 'link');
  await phone.run(async () => void (await (await navigator.serviceWorker.ready).update()));
  await phone.press('Restart with the new version');
  const shown = (name: string): boolean => document.querySelector('meta[name=build]')?.getAttribute('content') === name;
  await phone.until('the new build is running', shown, buildNameOf(next));
  await photographsOf(phone, 'A1', 2);
  await synced(phone);
});

test('the server moves to another address and nobody notices', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  const before = server.url;
  await server.move();
  await takeIn(phone, BOOT);
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.press('Sync now');
  await phone.finds('[data-phase=waiting]');
  await phone.page.getByText('The server has a new address').click();
  await phone.fill('New address', server.url);
  await phone.press('Use this address');
  await phone.until('nothing waits to be sent', () => document.querySelector('[data-count=unsent-blobs]')?.textContent === '0');
  expect(new URL(await phone.address()).origin).toBe(before);
});

test('a full disk is said, the log stays usable, and the photograph can be taken once there is room', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await phone.allowance(9_000_000, server.url);
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shoot(phone, 1);
  await phone.fillDisk();
  await phone.press(/^Photograph /);
  await phone.sees('A photograph of A1 was not saved: the device has no room left; free some');
  await phone.freeDisk();
  await phone.press('Close');
  await shoot(phone, 1);
  await photographsOf(phone, 'A1', 2);
});

test('a card is taken back, and published again', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, BOOT);
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await phone.press('Publish the card');
  await phone.sees('Nothing is noted as done yet');
  await checked(phone);
  await phone.press('Publish the card');
  const card = await publishedCard(phone);
  await synced(phone);
  expect((await fetch(card)).status).toBe(200);
  await publishedCard(phone);
  await phone.press('Withdraw the card');
  await phone.sees('The card has been withdrawn.');
  await synced(phone);
  expect((await fetch(card)).status).toBe(410);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await synced(phone);
  expect((await fetch(card)).status).toBe(200);
});

test('without any server: a backup on one phone is a shop on the next, and the card is a file', async ({ site, newPhone }) => {
  const files = await site();
  const phone = await newPhone();
  await phone.open(files.url);
  await takeIn(phone, BOOT);
  await shoot(phone, 2);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  const backup = phone.page.waitForEvent('download');
  await phone.press('Save everything to a file');
  const path = await (await backup).path();

  const next = await newPhone();
  await next.open(files.url);
  await next.press('Shop', 'link');
  await next.attach('Read a backup file in', path);
  await next.sees('The backup is on this device now.');
  await photographsOf(next, '1', 2);

  await next.press('Collection', 'link');
  const card = next.page.waitForEvent('download');
  await next.press('Save the card as a file');
  const page = await readFile(await (await card).path(), 'utf8');
  expect(page).toContain('New half soles where the forepart was worn.');
  expect(page.match(/src="data:image\/jpeg;base64,/g)).toHaveLength(2);
  expect(page).not.toContain('<script');
  expect(page).not.toContain('Brack');
});
