/** A full disk, as the phone's store meets it. */
import { CONTRACT, told } from '../helpers/contract.ts';
import { expect, chromiumTest as test } from '../helpers/test.ts';

test('a full disk is named as such, and what was there stays', async ({ site, newPhone }) => {
  const server = await site(CONTRACT);
  const phone = await newPhone();
  // The allowance is set for a page that is open already; the suite begins when its address is.
  await phone.open(`${server.url}/manifest.webmanifest`);
  await phone.allowance(8_000_000);
  await phone.open(`${server.url}/#fill=40`);
  expect(await told(phone)).toEqual([{ case: 'fill', wrong: '' }]);
});
