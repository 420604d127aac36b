/** The contract of the phone's store on a full disk. */
import { CONTRACT, told } from '../helpers/contract.ts';
import { expect, chromiumTest as test } from '../helpers/test.ts';

test('a full disk is named as such, and what was there stays', async ({ site, newPhone }) => {
  const server = await site(CONTRACT);
  const phone = await newPhone();
  // The limit can be set only for a page that is open, and the suite starts when its own page is opened.
  await phone.open(`${server.url}/manifest.webmanifest`);
  await phone.allowance(8_000_000);
  await phone.open(`${server.url}/#fill=40`);
  expect(await told(phone)).toEqual([{ case: 'fill', wrong: '' }]);
});
