/**
 * Roles: a helper's device takes pairs in and changes no setting, what it may not write waits for a repairer, a device that
 * is shut out keeps only what it never sent, and the screen lock makes a repairer's device show a helper's screen.
 */
import { amountAfter, stubOnPaper } from '../helpers/amounts.ts';
import { expect, test, type Phone, picture } from '../helpers/test.ts';
import type { Waxend } from '../helpers/waxend.ts';
import { joined, openLife, synced, takeIn } from '../helpers/work.ts';
import { Writer, uuid } from '../helpers/writer.ts';

/** A code with which one device can join, as a repairer's phone shows it. */
async function codeOn(phone: Phone, whose: 'repairer' | 'helper'): Promise<string> {
  await phone.press('Shop', 'link');
  await phone.press(`Add a ${whose}'s phone`);
  await phone.sees(`This code lets a ${whose}'s device in.`);
  return phone.until('the code is shown', () => document.querySelector('[aria-label=Devices] .code')?.textContent);
}

/** Asks the server something, as an app does. */
async function ask<T>(server: Waxend, path: string, body: object, token?: string): Promise<T> {
  const headers: Record<string, string> = { 'content-type': 'application/json' };
  if (token !== undefined) headers['authorization'] = `Bearer ${token}`;
  const answer = await fetch(`${server.url}/api/v1/${path}`, { method: 'POST', headers, body: JSON.stringify(body) });
  expect(answer.ok, `${path}: ${answer.status}`).toBe(true);
  return (await answer.json()) as T;
}

/** A helper's device without an app, which sets the shop's name. */
class Tablet {
  readonly #server: Waxend;
  readonly #writer = new Writer(Date.now(), 1);
  readonly #device: string;
  readonly #joined: { token: string; shop: string };

  private constructor(server: Waxend, device: string, joined: { token: string; shop: string }) {
    this.#server = server;
    this.#device = device;
    this.#joined = joined;
  }

  static async join(server: Waxend, code: string): Promise<Tablet> {
    const device = uuid(4, Date.now());
    const joined = await ask<{ token: string; shop: string }>(server, 'join', { code, device, name: 'Tablet' });
    return new Tablet(server, device, joined);
  }

  /** An entry that sets the shop's name. */
  naming(name: string): object {
    const { shop } = this.#joined;
    return { ...this.#writer.entry('shop', shop, 'detail', { field: 'name', value: name }), device: this.#device };
  }

  /** Sends an entry; the code with which the server refuses it. */
  async push(entry: object): Promise<string | undefined> {
    type Answer = { results: { refused?: { code: string } }[] };
    const { results } = await ask<Answer>(this.#server, 'entries', { entries: [{ entry }] }, this.#joined.token);
    return results[0]?.refused?.code;
  }
}

/** In the page: the shop's name as it stands in the form. */
function nameOfShop(): string | undefined {
  return document.querySelector<HTMLInputElement>('#shop-s-name')?.value;
}

test("a helper's device takes a pair in and prints its prices, shows none afterwards, and is offered no setting", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  const helper = await newPhone();
  await helper.open(`${server.url}/join#code=${await codeOn(phone, 'helper')}`);
  await helper.sees("This device is a helper's.");
  await helper.finds('[data-ready=bench]');

  await helper.press('Shop', 'link');
  await helper.sees('Devices are let in and shut out by repairers.');
  await helper.seesNo('Price list');
  for (const name of ['Add', 'Save money', 'Save the nails', 'American English', "Add a helper's phone", 'Save everything to a file']) {
    expect(await helper.has(name, 'button'), name).toBe(false);
  }
  await helper.press('Drop-off', 'link');
  await helper.press('Boot');
  await helper.press('Half soles');
  await helper.press('Today');
  // The norm for boots, which stands there until another price is agreed.
  await helper.until('the price of the list is shown', () => document.querySelector<HTMLInputElement>('#price-0-0')?.value === '40');
  await helper.fill('Price of Half soles', '65');
  await helper.press('Deposit');
  await helper.fill('Deposit paid now', '20');
  await helper.until('the total is shown', () => document.querySelector('[data-total]')?.textContent === '65.00');
  await helper.press('Take in and print');
  const paper = await stubOnPaper(helper);
  for (const amount of ['65.00', '20.00', '45.00']) expect(paper, 'on paper').toContain(amount);
  expect(await amountAfter(helper, '.stub .figures', 'Due')).toBe('45.00');
  await helper.press('Bench', 'link');
  await helper.press(/^B1/, 'link');
  await helper.press('Collection', 'link');
  await helper.sees('Something is still due: ask a repairer.');
  expect(await helper.run(() => /\d\.\d\d/.test(document.querySelector('main')!.innerText)), 'no amount').toBe(false);
  await synced(helper);
  expect(await helper.run(() => document.querySelector('[data-count=refused]')?.textContent)).toBe('0');

  await synced(phone);
  await openLife(phone, 'B1');
  await phone.sees('65.00');
  await phone.press('Shop', 'link');
  await phone.press('Which devices have joined');
  await phone.sees("a helper's, last heard of");
  await picture(phone, 'devices');
});

test("what a helper's device may not write is kept aside, until a repairer takes it or drops it", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  const tablet = await Tablet.join(server, await codeOn(phone, 'helper'));
  const good = tablet.naming('Brack and Daughter');
  expect(await tablet.push(good)).toBe('kept_for_repairer');

  await phone.press('Ask what is kept aside');
  await phone.sees('name: Brack and Daughter');
  await phone.sees('Tablet, ');
  await picture(phone, 'kept-aside');
  expect(await phone.run(nameOfShop), 'it has no effect').toBe('');
  await phone.press(/^Take: /);
  await phone.sees('Nothing is kept aside.');
  await phone.until('the shop has its name', () => document.querySelector<HTMLInputElement>('#shop-s-name')?.value === 'Brack and Daughter');

  const bad = tablet.naming('The Last Resort');
  expect(await tablet.push(bad)).toBe('kept_for_repairer');
  await phone.press('Ask what is kept aside');
  await phone.sees('name: The Last Resort');
  await phone.press(/^Drop: /);
  await phone.sees('Nothing is kept aside.');
  expect(await tablet.push(bad)).toBe('dropped_by_repairer');
  expect(await phone.run(nameOfShop)).toBe('Brack and Daughter');
});

test('a phone that is shut out deletes what the server has, keeps what it never sent, and says so', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  const lost = await newPhone();
  await joined(lost, server);
  await takeIn(lost, { work: 'Half soles', price: '65', look: 'walking boot', name: 'Ottoline Brack' });
  await synced(lost);

  await phone.press('Shop', 'link');
  await phone.press('Which devices have joined');
  await phone.until('it is shut out', () => {
    const line = [...document.querySelectorAll('[aria-label=Joined] li')].find((one) => !one.textContent?.includes('this device'));
    if (/shut out \d/.test(line?.textContent ?? '')) return true;
    line?.querySelector('details')?.setAttribute('open', '');
    line?.querySelector('button')?.click();
    return false;
  });
  await takeIn(lost, { work: 'Heels (top pieces)', price: '18', look: 'court shoe' });
  await lost.press('Bench', 'link');
  await lost.sees("What the shop's server has was deleted from this device.");
  await lost.sees('What was never sent is kept here');
  await lost.seesNo('walking boot');
  await lost.sees('court shoe');
  await picture(lost, 'wiped');
  await lost.press('Records', 'link');
  await lost.sees('court shoe');
  await lost.seesNo('Ottoline Brack');

  await lost.open(`${server.url}/join#code=${await codeOn(phone, 'repairer')}`);
  await lost.sees('This device has joined the shop.');
  await synced(lost);
  await lost.press('Bench', 'link');
  await lost.sees('court shoe');
  await lost.sees('walking boot');
  await lost.seesNo('deleted from this device');
});

/** Types a PIN, and waits until the screen lock has answered. */
async function tryPin(phone: Phone, pin: string): Promise<void> {
  await phone.fill('PIN', pin);
  // Not by taps: two of them within half a second would be one.
  await phone.run(() => document.querySelector<HTMLFormElement>('form[aria-label="Screen lock"]')?.requestSubmit());
  await phone.until('it has answered', () => !document.querySelector<HTMLInputElement>('form[aria-label="Screen lock"] input')?.value);
}

test("the screen lock makes a repairer's device show a helper's screen, until the PIN is typed", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.press('Shop', 'link');
  await phone.finds('a[href="/shop/prices"]');
  await phone.until('the form is open', () => {
    const form = [...document.querySelectorAll('details')].find((one) => one.textContent?.startsWith('Screen lock'));
    if (form) form.open = true;
    return form !== undefined;
  });
  await phone.fill('New PIN, four to eight digits', '2468');
  await phone.press('Set the PIN');
  await phone.sees('The PIN is set.');
  expect(await phone.run(() => JSON.stringify({ ...localStorage })), 'the PIN itself is nowhere').not.toContain('2468');
  await phone.press('Lock');
  await phone.sees('The screen lock is on');
  await picture(phone, 'screen-lock');
  const settings = (): Promise<number> => phone.count('a[href="/shop/prices"], [aria-label=Money]');
  expect(await settings()).toBe(0);

  for (let wrong = 0; wrong < 5; wrong += 1) await tryPin(phone, '1111');
  await phone.sees('This is not the PIN.');
  await tryPin(phone, '2468');
  await phone.sees('That was wrong five times.');
  expect(await settings(), 'not even the right one opens it now').toBe(0);
  await phone.run(() => {
    const right = Date.now;
    Date.now = () => right() + 61_000;
  });
  await phone.fill('PIN', '2468');
  await phone.press('Unlock');
  await phone.finds('a[href="/shop/prices"]');

  await phone.reload();
  await phone.sees('The screen lock is on');
  expect(await settings(), 'it locks when the page is started').toBe(0);
  await phone.open(await server.joinLink());
  await phone.sees("This device is a repairer's.");
  await phone.press('Shop', 'link');
  await phone.finds('a[href="/shop/prices"]');
  expect(await phone.has('Lock', 'button'), 'whoever forgets the PIN joins anew').toBe(false);
});
