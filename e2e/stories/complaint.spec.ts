/** A pair comes back without its stub: it is found by the last four digits, and taken in again at no charge. */
import { counting } from '../helpers/counting.ts';
import { expect, test } from '../helpers/test.ts';
import { checked, joined, noteStep, shoot, takeIn, unfoldHistory } from '../helpers/work.ts';

test('a complaint is found by four digits in three presses, and is a job at no charge', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '+00 30 555 0142' });
  await shoot(phone, 2);
  await phone.press('Done, to the Bench', 'link');
  await phone.press('Photograph A1', 'link');
  await shoot(phone, 1);
  await noteStep(phone, 'Half soles');
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');

  const began = Date.now();
  const hand = counting(phone);
  await hand.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', '0142');
  await hand.press(/^A1/, 'link');
  await hand.press('Complaint', 'link');
  await phone.sees('What was done');
  expect(hand.presses()).toBeLessThanOrEqual(3);
  expect(Date.now() - began).toBeLessThan(15_000);
  await phone.sees('Half soles, both');
  await phone.sees('It left the shop:');
  await phone.until('its photographs are there', () => document.querySelectorAll('.photograph img').length === 3);

  // There is only one operation that the complaint can be about, so it is chosen already.
  await hand.press('Our work');
  await phone.fill('What the customer says', 'came off at the toe');
  await hand.press('Take it in again');
  await phone.finds('.camera');
  expect(hand.presses()).toBeLessThanOrEqual(5);
  expect(await phone.address()).toMatch(/\/camera\/[-0-9a-f]+\?shows=drop_off$/);
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A2/, 'link');
  await phone.press(/History$/, 'link');
  await unfoldHistory(phone);
  await phone.sees('Makes good, at no charge: Half soles of A1. came off at the toe');
  await phone.press('Collection', 'link');
  await phone.sees('Nothing is due.');
});
