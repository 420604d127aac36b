/** Correcting the records: two records of the same pair and customer are joined, and a customer is erased. */
import { expect, test } from '../helpers/test.ts';
import { checked, joined, shoot, synced, takeIn } from '../helpers/work.ts';

const SAID = { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '+00 30 555 0142' };

test('a pair entered twice is joined and can be taken apart; its customer can be forgotten', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Pickup', 'link');
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
  // The same pair is brought again later, and entered as that of a new customer.
  await takeIn(phone, { ...SAID, work: 'Top pieces', telephone: '5550142' });
  await shoot(phone, 1);

  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', '0142 chestnut');
  await phone.until('both are found', () => document.querySelectorAll('[aria-label=Found] > li').length === 2);
  await phone.press(/^A2/, 'link');
  await phone.sees('Perhaps the same pair: A1 chestnut walking boot');
  await phone.sees('Perhaps the same customer: Ottoline Brack');
  await phone.run(() => {
    const offer = [...document.querySelectorAll('[aria-label="Perhaps the same"] p')].find((line) => line.textContent?.includes('same pair'));
    offer?.querySelector('button')?.click();
  });
  await phone.sees('Joined from two records.');
  await phone.finds('[aria-label="Job A1"]');
  await phone.finds('[aria-label="Job A2"]');
  expect(await phone.run(() => document.querySelectorAll('section.job').length), 'one life, both stays').toBe(2);
  await phone.press('Take them apart');
  await phone.seesNo('Joined from two records.');
  await phone.until('each has its own life again', () => document.querySelectorAll('section.job').length === 1);

  await phone.run(() => document.querySelectorAll('details').forEach((one) => { one.open = true; }));
  await phone.press('Erase for good');
  await phone.sees('It is erased once the server has this.');
  await phone.seesNo('5550142');
  await synced(phone);

  const other = await newPhone();
  await joined(other, server);
  await other.press('Records', 'link');
  await other.until('what stays is there', () => document.body.textContent?.includes('walking boot'));
  expect(await other.run(() => document.body.textContent?.includes('5550142')), 'erased on every device').toBe(false);
});
