/** The shop's own prices, the person at work, what a helper sees, and what is printed. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { leaveCamera, openLife } from '../helpers/work.ts';

async function atTheShop(phone: Phone, url: string): Promise<void> {
  await phone.open(url);
  await phone.finds('[data-ready=bench]');
  await phone.press('Shop', 'link');
}

test('a price written into the list is the price at the counter, and an emptied one is the norm again', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheShop(phone, (await site()).url);
  const write = async (label: string, price: string): Promise<void> => {
    await phone.fill(label, price);
    await phone.key('Tab');
  };
  const quoted = async (work: string, kind: string, price: string): Promise<void> => {
    await phone.press('Drop-off', 'link');
    await phone.press(kind);
    await phone.press(work);
    await phone.until('the price stands in the line', (wanted) => document.querySelector<HTMLInputElement>('#price-0-0')?.value === wanted, price);
    await phone.press(work);
    await phone.press(kind);
  };
  await phone.press('Price list', 'link');
  await write('Half soles, Shoe', '41.50');
  await phone.fill('Own work', 'Bell repair');
  await phone.fill('Its price', '7');
  await phone.press('Add to the list');
  await phone.finds('[aria-label="Bell repair, Shoe"]');
  await quoted('Half soles', 'Shoe', '41.50');
  await quoted('Bell repair', 'Shoe', '7');
  await phone.press('Shop', 'link');
  await phone.press('Price list', 'link');
  await phone.until('the own price stands', () => document.querySelector<HTMLInputElement>('[aria-label="Half soles, Shoe"]')?.value === '41.50');
  await write('Half soles, Shoe', '');
  await quoted('Half soles', 'Shoe', '38');
});

test('a helper sees prices at drop-off and on the stub, but not afterwards, and entries name who works', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheShop(phone, (await site()).url);
  await phone.fill('Your name', 'Maud');
  await phone.press('Add');
  await phone.press('Maud');
  await phone.fill('Somebody else', 'Piet');
  await phone.press('Helper');
  await phone.press('Add');
  await phone.press('Piet');
  await phone.seesNo('Price list');
  await phone.press('Drop-off', 'link');
  await phone.press('Boot');
  await phone.press('Half soles');
  await phone.press('Today');
  await phone.sees('1 pair');
  await phone.until('the total is shown', () => document.querySelector('[data-total]')?.textContent === '40.00');
  expect(await phone.count('#price-0-0')).toBe(1);
  expect(await phone.has('Deposit', 'button')).toBe(true);
  await phone.press('Take in and print');
  await phone.sees('Left with us');
  expect(await phone.run(() => document.querySelector('.stub')!.textContent!.includes('40.00'))).toBe(true);
  await openLife(phone, '1');
  await phone.seesNo('40.00');

  // On the Bench it is made a repairer's, who sees the agreed price from the list.
  await phone.press('Bench', 'link');
  await phone.sees('Working now: Piet');
  await phone.run(() => document.querySelector<HTMLElement>('.who-works summary')?.click());
  await phone.press('Maud');
  await phone.press('Drop-off', 'link');
  await phone.press('Boot');
  await phone.press('Half soles');
  await phone.until('the price is there', () => document.querySelector<HTMLInputElement>('#price-0-0')?.value === '40');
});

test('stub and tags carry the numbers, the money and a code each', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheShop(phone, (await site()).url);
  await phone.fill('Currency, three letters', 'eur');
  await phone.fill('Tax in per cent; empty for none', '19');
  await phone.press('Save money');
  await phone.sees('Saved.');
  await phone.press('Drop-off', 'link');
  await phone.press('Shoe');
  await phone.press('Half soles');
  await phone.press('+ another pair');
  await phone.press('Belt');
  await phone.press('New hole');
  await phone.press('In 7 days');
  await phone.press('Deposit');
  await phone.fill('Deposit paid now', '20');
  // 38 and 3; the tax in 41.00 is 41 · 19 / 119 = 6.546…
  await phone.sees('€41.00');
  await phone.sees('19 % tax in it: €6.55');
  await phone.press('Take in and print');
  await phone.sees('Left with us');
  await phone.sees('Due €21.00');
  expect(await phone.count('.sheet .qr path')).toBe(3);
  expect(await phone.count('.hang-tag')).toBe(2);
  await phone.press('Photograph', 'link');
  await phone.finds('.camera');

  // Amounts are stored without a currency: once there are some, another currency would change them all.
  await leaveCamera(phone);
  await phone.press('Shop', 'link');
  await phone.fill('Currency, three letters', 'jpy');
  await phone.press('Save money');
  await phone.sees('The currency is fixed once there is a price');
});

test('the shop chooses American English: spelling, dates and the page\'s language follow, also in the plan', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheShop(phone, (await site()).url);
  const language = (wanted: string): Promise<unknown> =>
    phone.until('the page speaks it', (tag) => document.documentElement.lang === tag, wanted);
  await language('en-GB');
  await phone.press('American English');
  await language('en-US');
  await phone.finds('[aria-label="Measures"]');
  await phone.press('Drop-off', 'link');
  await phone.press('Shoe');
  await phone.press('Half soles');
  await phone.fill('Color', 'oxblood');
  await phone.finds('.days button');
  // Weekday, month, day, year: the long words of a day, as a screen reader says them.
  await phone.until('the days are written so', () =>
    [...document.querySelectorAll('.days button')].every((day) => /day, [A-Z][a-z]+ \d{1,2}, \d{4}\b/.test(day.getAttribute('aria-label') ?? '')));
  await phone.press('Shop', 'link');
  await phone.press('British English');
  await language('en-GB');
});
