/** When the app syncs by itself, and which servers it accepts. */
import { randomUUID } from 'node:crypto';

import { expect, test, type Phone } from '../helpers/test.ts';
import { storedOn } from '../helpers/photographs.ts';
import { joined, leaveCamera, shoot, synced, takeIn } from '../helpers/work.ts';

/** In the page: whether nothing is unsent. */
function nothingWaits(): boolean {
  const none = (what: string): boolean => document.querySelector(`[data-count=${what}]`)?.textContent === '0';
  return none('unsent') && none('unsent-blobs');
}

/** In the page: whether several entries and photographs are unsent. They are counted after the screen was drawn. */
function severalWait(): boolean {
  const count = (what: string): number => Number(document.querySelector(`[data-count=${what}]`)?.textContent ?? NaN);
  return count('unsent') + count('unsent-blobs') > 2;
}

function phaseIs(phase: string): boolean {
  return document.querySelector(`[data-phase=${phase}]`) !== null;
}

/** Sets the server's address in the app. */
async function moveTo(phone: Phone, url: string): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.until('the form is open', () => {
    const details = document.querySelector<HTMLDetailsElement>('details:has(input[type=url])');
    if (details) details.open = true;
    return details !== null;
  });
  await phone.fill('New address', url);
  await phone.press('Use this address');
}

test('what is saved is sent without being asked', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.until('everything is sent', nothingWaits);
  expect(storedOn(server)).toHaveLength(2);
});

test('what was saved without a server is sent when the person comes back to the app', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await server.stop();
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.until('the server is missed', phaseIs, 'waiting');
  await phone.until('several things wait', severalWait);

  await server.start();
  await phone.run(() => void window.dispatchEvent(new Event('focus')));
  await phone.until('everything is sent', nothingWaits);
  expect(storedOn(server)).toHaveLength(2);
});

test('a stranger at the address, as in a hotel, is not taken for the server', async ({ waxend, site, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  // This server answers every request with a page and "200 OK".
  const stranger = await site();
  await moveTo(phone, stranger.url);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.press('Sync now');
  await phone.until('the server is missed', phaseIs, 'waiting');
  await phone.until('several things wait', severalWait);

  await moveTo(phone, server.url);
  await phone.until('everything is sent', nothingWaits);
  expect(storedOn(server)).toHaveLength(2);
});

test('a device whose app is too old for the shop, or does not say its version, is named', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  // Joins and pulls as an app does that does not send its version yet.
  const joining = { code: await server.joinCode(), device: randomUUID(), name: 'Old tablet' };
  const headers = { 'content-type': 'application/json' };
  const answer = await fetch(`${server.url}/api/v1/join`, { method: 'POST', headers, body: JSON.stringify(joining) });
  const { token } = (await answer.json()) as { token: string };
  const pulled = await fetch(`${server.url}/api/v1/entries`, { headers: { authorization: `Bearer ${token}` } });
  expect(pulled.status, 'it is served as ever').toBe(200);
  await phone.press('Shop', 'link');
  await phone.press('Which devices have joined');
  await phone.sees('Old tablet');
  const named = await phone.run(() => [...document.querySelectorAll('[aria-label=Joined] li')].map((line) => line.textContent?.includes('Too old') ?? false));
  expect(named, 'the tablet, and not this phone').toEqual([false, true]);
});

test('a clock that is days ahead is told of', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.press('Shop', 'link');
  await phone.press('Ask the server what it holds');
  await phone.sees('On the server:');
  expect(await phone.count('[data-clock=ahead]'), 'a clock that is right').toBe(0);
  await phone.run(() => {
    const right = Date.now;
    Date.now = () => right() + 3 * 24 * 3600 * 1000;
  });
  await phone.press('Ask the server what it holds');
  await phone.sees('clock is 3 days ahead');
});
