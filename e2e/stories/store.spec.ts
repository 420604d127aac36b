/** The store's database fulfils its contract: the suite of `app/core/src/store/contract.rs`, run in a page. */
import { CONTRACT, told } from '../helpers/contract.ts';
import { expect, test } from '../helpers/test.ts';

test('IndexedDB does what the store relies on', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open(`${(await site(CONTRACT)).url}/#all`);
  const verdicts = await told(phone);
  expect(verdicts.length).toBeGreaterThan(15);
  expect(verdicts.filter(({ wrong }) => wrong !== '')).toEqual([]);
});
