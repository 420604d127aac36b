/** Screens whose code is loaded separately: what is shown when it cannot be loaded, and that it is loaded later. */
import { assetsOf } from '../helpers/build.ts';
import { expect, chromiumTest as test } from '../helpers/test.ts';
import { takeIn } from '../helpers/work.ts';

const pieces = (): string[] => assetsOf().filter((path) => path.startsWith('/pkg/piece-'));

test('the Bench stands without the other screens, which say so and come when they can', async ({ site, newPhone }) => {
  const server = await site();
  expect(pieces().length).toBeGreaterThan(1);
  for (const path of pieces()) server.lost.add(path);
  const phone = await newPhone();
  await phone.open(server.url);
  await phone.finds('[data-ready=bench]');

  await phone.press('Records', 'link');
  await phone.sees('This screen is not on this device yet');
  await phone.press('Try again');
  await phone.sees('This screen is not on this device yet');
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench]');

  server.lost.clear();
  await phone.press('Records', 'link');
  await phone.finds('input[type=search]');
  expect(phone.complaints.every((line) => /404|HTTP status code is not ok|Incorrect response/i.test(line)), phone.complaints.join('\n')).toBe(true);
});

test('on the Bench every piece is soon there, before anybody asks for it', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.until('every piece is there', (names: string[]) => {
    const fetched = new Set(performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname));
    return names.every((name) => fetched.has(name));
  }, pieces());
});

test('where nothing can be reckoned the counter and the Bench say so, and everything else goes on', async ({ site, newPhone }) => {
  const server = await site();
  for (const path of assetsOf().filter((path) => path.startsWith('/pkg/analytics-'))) server.lost.add(path);
  const phone = await newPhone();
  await phone.open(server.url);
  await takeIn(phone, { work: 'Heels (top pieces)', price: '25', look: 'Court shoes' });
  await phone.press('Bench', 'link');
  await phone.sees('No plan now');
  await phone.press('Drop-off', 'link');
  await phone.press('Heels (top pieces)');
  await phone.sees('How full the days are cannot be said now');
});
