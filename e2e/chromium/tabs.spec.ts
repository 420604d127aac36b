/** Two tabs of the app on one device. */
import { expect, chromiumTest as test } from '../helpers/test.ts';
import { joined, synced, takeIn } from '../helpers/work.ts';

test('what one tab saves, the other shows', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  const other = await phone.newTab();
  await other.open(server.url);
  await other.finds('[data-ready=bench]');
  await server.stop();

  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut' });
  await other.sees('chestnut walking boot');
});

test('while another tab syncs, this one leaves it to that', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  const other = await phone.newTab();
  await other.open(server.url);
  await other.finds('[data-ready=bench]');
  await other.run(() => {
    // This tab holds the lock until it calls `letGo`, as a round of sync does.
    void navigator.locks.request('waxend', () => new Promise<void>((letGo) => Object.assign(window, { letGo })));
  });

  const askedBefore: string[] = [];
  let free = false;
  phone.page.on('request', (request) => {
    if (!free && request.url().includes('/api/')) askedBefore.push(request.url());
  });
  await phone.press('Sync now');
  await phone.until('it leaves it to the other tab', () => document.querySelector('[data-phase=syncing]') !== null);
  free = true;
  await other.run(() => (window as unknown as { letGo: () => void }).letGo());
  await phone.until('it is its turn', () => document.querySelector('[data-phase=up-to-date]') !== null);
  expect(askedBefore).toEqual([]);
});

test('a round that a person asks for while another runs follows it, although the page has left the screen', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await synced(phone);
  let asked = 0;
  let letGo = (): void => {};
  const held = new Promise<void>((go) => { letGo = go; });
  await phone.page.route('**/api/v1/entries?**', async (route) => {
    asked += 1;
    // The first round's answer is on its way until the page is out of sight.
    if (asked === 1) await held;
    await route.continue();
  });
  await phone.press('Sync now');
  await phone.until('a round runs', () => document.querySelector('[data-phase=syncing]') !== null);
  await phone.press('Sync now');
  await phone.run(() => {
    Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
  });
  letGo();
  await expect.poll(() => asked, { timeout: 20_000 }).toBe(2);
});
