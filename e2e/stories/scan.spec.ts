/** Scanning at the counter, as far as it can be tested in both browsers; `chromium/scan.spec.ts` reads real codes. */
import { breaches, expect, test } from '../helpers/test.ts';
import { lensIs, watchLens } from '../helpers/lens.ts';
import { joined, takeIn } from '../helpers/work.ts';

const HINT = 'Hold the tag before the camera';

test('the camera for a tag opens in place, and stops when it is closed or left', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone({ screen: { width: 360, height: 740 } });
  await joined(phone, server);
  await phone.run(watchLens);
  await phone.press('Drop-off', 'link');
  await phone.press('Scan own tag number');
  await phone.sees(HINT);
  await phone.until('the camera runs', lensIs, 'live');
  expect(await breaches(phone)).toEqual([]);
  expect(await phone.run(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await phone.press('Close the camera');
  await phone.seesNo(HINT);
  await phone.until('the camera is let go of', lensIs, 'ended');

  await phone.press('Scan own tag number');
  await phone.until('the camera runs again', lensIs, 'live');
  await phone.press('Bench', 'link');
  await phone.until('the camera is let go of', lensIs, 'ended');
});

test('the camera offers to scan a tag, in every browser', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65' });
  await phone.press('More tools');
  await phone.press('Scan a tag');
  await phone.sees('Show the tag');
  // The reader was loaded. If the browser had refused its script, the app would say so.
  await phone.until('the reader is there', () => 'tagReader' in window || 'BarcodeDetector' in window);
});

test('a number that hangs in the shop already is told as it is typed', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', tag: '0417' });
  await phone.press('Bench', 'link');
  await phone.press('Drop-off', 'link');
  await phone.fill('Own tag number', '041');
  await phone.seesNo('hangs on a pair');
  await phone.fill('Own tag number', '0417');
  await phone.sees('0417 hangs on a pair in the shop: walking boot');
});
