/** What a phone of the tests can do, tried on a page that shows what was done to it. All stories depend on it. */
import { fileURLToPath } from 'node:url';

import { breaches, expect, test } from '../helpers/test.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

test('presses, fills, chooses, attaches and sees by the names a person finds', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site(here('../fixtures/form'))).url);

  await phone.fill('Name', 'after');
  await phone.choose('Station', 'cement');
  await phone.sees('station cement;');
  await phone.press('Boots', 'checkbox');
  await phone.sees('boots true;');
  await phone.attach('Picture', here('verbs.spec.ts'));
  await phone.sees('file verbs.spec.ts;');
  await phone.press('Save');
  await phone.sees('saved after;');
  await phone.press(/^Late/);
  await phone.sees('; later;');
  await phone.key('Enter');
  await phone.sees('key Enter;');

  expect(await phone.has('Saved', 'button')).toBe(true);
  expect(await phone.has('Save', 'button')).toBe(false);
  await phone.seesNo('saved before');
});

test('is as wide as a phone', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site(here('../fixtures/form'))).url);
  expect(await phone.run(() => innerWidth)).toBe(390);
});

test('an error in the page is an error in the test', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site(here('../fixtures/form'))).url);
  const failing = phone.run(async () => {
    throw new Error('from the page');
  });
  await expect(failing).rejects.toThrow(/from the page/);
});

test('a broken accessibility rule is found', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site(here('../fixtures/form'))).url);
  expect(await breaches(phone)).toEqual([]);
  await phone.run(() => document.querySelector('main')!.append(document.createElement('button')));
  expect((await breaches(phone)).join()).toContain('button-name');
});

test('shows what is on its screen', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site(here('../fixtures/form'))).url);
  const full = await phone.picture();
  await phone.run(() => document.body.replaceChildren());
  expect(full.length).toBeGreaterThan((await phone.picture()).length);
});

test("the page's own scripts can be turned off", async ({ site, newPhone }) => {
  const phone = await newPhone({ script: 'off' });
  await phone.open((await site(here('../fixtures/form'))).url);
  await phone.press('Boots', 'checkbox');
  // If the page's scripts ran, the text would be there before the press returns.
  expect(await phone.run(() => document.querySelector('#said')!.textContent)).toBe('');
});
