/**
 * Goods over the counter: laces beside a pair, polish alone, at the bench, on the ticket, on paper, in Records and in the
 * books; what a helper sells on another phone.
 */
import { amountAfter, stubOnPaper } from '../helpers/amounts.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { joined, synced, unfoldHistory } from '../helpers/work.ts';

/** Unfolds the other goods, and chooses some that are on no list. */
async function otherGoods(phone: Phone, what: string, price: string): Promise<void> {
  await phone.finds('[aria-label=Sundries] details');
  await phone.run(() => document.querySelectorAll('[aria-label=Sundries] details').forEach((one) => one.setAttribute('open', '')));
  await phone.fill('What', what);
  await phone.press('Add these goods');
  await phone.fill(`Price of ${what}`, price);
}

/** Opens the books by operation. */
async function booksByOperation(phone: Phone): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.press('Books', 'link');
  await phone.press('By operation');
}

/** What the books charge in the row of goods; waits until there is one. */
function goodsInBooks(phone: Phone): Promise<string> {
  return phone.until('the books have a row of goods', () => {
    const rows = [...document.querySelectorAll('.books tbody tr')];
    const goods = rows.find((row) => row.querySelector('th')?.textContent === 'Sundries');
    // After the head of the row and the number of jobs.
    return goods?.querySelectorAll('td')[1]?.textContent;
  });
}

/** In the page: the value of the price field of the first goods. */
function firstPrice(): string | undefined {
  return document.querySelector<HTMLInputElement>('#goods-price-0')?.value;
}

test('laces beside a pair are on its ticket and its paper with the tax, are due at once, and are sold at the list price', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Shop', 'link');
  await phone.fill('Tax in per cent; empty for none', '8.1');
  await phone.press('Added to them');
  await phone.press('Save money');
  await phone.sees('Saved.');
  await phone.press('Price list', 'link');
  await phone.press('Add these goods to the list');
  await phone.sees('Goods need a name and a price.');
  await phone.fill('What is sold', 'Laces 90');
  await phone.fill('Price of one', '4.50');
  await phone.press('Add these goods to the list');
  await phone.finds('[aria-label="Price of one, Laces 90"]');

  await phone.press('Drop-off', 'link');
  await phone.press('Half soles');
  await phone.fill('Price of Half soles', '65');
  await phone.press('Laces 90');
  await phone.press('One more, Laces 90');
  await phone.until('the price follows the number', firstPrice);
  expect(await phone.run(firstPrice)).toBe('9');
  // 8.1 % on 74.00 is 5.994.
  await phone.until('the total is shown', () => document.querySelector('[data-total]')?.textContent === '79.99');
  await phone.press('In 3 days');
  await phone.press('Take in and print');
  const paper = await stubOnPaper(phone);
  for (const text of ['Half soles', '65.00', '2 × Laces 90', '9.00', '79.99']) expect(paper, 'on paper').toContain(text);
  expect(await amountAfter(phone, '.stub .figures', 'Due in all')).toBe('79.99');

  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.sees('With it: 2 × Laces 90');
  await phone.press(/History$/, 'link');
  await phone.finds('[aria-label="Job A1"]');
  await unfoldHistory(phone);
  await phone.sees('With it: 2 × Laces 90');
  await phone.press('Collection', 'link');
  await phone.finds('#final-check');
  await phone.sees('With it: 2 × Laces 90');
  await phone.press('Its ticket', 'link');
  // 8.1 % on 9.00 is 0.729.
  await phone.sees('Due for goods 9.73');
  await phone.press('Paid now: 9.73, for goods');
  await phone.sees('Due 70.26');
  await phone.press('Sell something');
  await otherGoods(phone, 'Shoehorn', '');
  await phone.press('Sold');
  await phone.sees('Shoehorn: the price is missing');
  await phone.fill('Price of Shoehorn', '3');
  await phone.press('Sold');
  // 8.1 % on 77.00 is 6.237: 83.24, less 9.73.
  await phone.sees('Due in all 73.51');
  await phone.press('Withdraw the entry: Shoehorn');
  await phone.sees('Due 70.26');
});

test('polish alone is sold without a pair and a day, has a receipt, and is in the books', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Drop-off', 'link');
  await phone.fill("Customer's name", 'Ottoline Brack');
  await otherGoods(phone, 'Polish', '9.50');
  await phone.until('the total is shown', () => document.querySelector('[data-total]')?.textContent === '9.50');
  await phone.press('Sold');
  await phone.sees('Due 9.50');
  await phone.seesNo('Promise another day');
  await phone.press('Paid now: 9.50');
  await phone.sees('Nothing is due.');
  // What was sold last is offered first, at the price it had.
  await phone.press('Sell something');
  await phone.press('Polish');
  await phone.until('its price is there', firstPrice);
  expect(await phone.run(firstPrice)).toBe('9.50');
  await phone.press('Sold');
  await phone.sees('Due 9.50');
  await phone.press('Paid now: 9.50');
  await phone.sees('Nothing is due.');
  await phone.press('Receipt', 'link');
  const paper = await stubOnPaper(phone);
  for (const text of ['Bought', 'Polish', '9.50', '19.00']) expect(paper, 'on paper').toContain(text);
  expect(paper).not.toContain('Left with us');

  await phone.press('Records', 'link');
  for (const words of ['polish', 'brack']) {
    await phone.fill('Number, name, last digits, maker, colour, note', words);
    await phone.until('the sale is found', () => document.querySelectorAll('[aria-label="Sold without a pair"] > li').length === 1);
  }
  await phone.fill('Number, name, last digits, maker, colour, note', 'polish shoehorn');
  await phone.sees('No pair answers to that.');
  await phone.fill('Number, name, last digits, maker, colour, note', 'polish');
  await phone.press(/^Polish/, 'link');
  await phone.sees('Save everything of theirs as a file');

  await booksByOperation(phone);
  expect(await goodsInBooks(phone)).toBe('19.00');
});

test("what a helper sells on another phone is in the repairer's books", async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.press('Shop', 'link');
  await phone.press("Add a helper's phone");
  await phone.sees("This code lets a helper's device in.");
  const code = await phone.until('the code is shown', () => document.querySelector('[aria-label=Devices] .code')?.textContent);
  const helper = await newPhone();
  await helper.open(`${server.url}/join#code=${code}`);
  await helper.sees("This device is a helper's.");
  await helper.finds('[data-ready=bench]');

  await helper.press('Drop-off', 'link');
  await otherGoods(helper, 'Insoles', '7');
  await helper.press('Paid in full');
  await helper.press('Sold');
  await helper.until('the ticket is shown', () => document.querySelector('h1')?.textContent !== 'Drop-off');
  await helper.sees('Insoles');
  expect(await helper.run(() => /\d\.\d\d/.test(document.querySelector('main')!.innerText)), 'no amount').toBe(false);
  await synced(helper);
  expect(await helper.run(() => document.querySelector('[data-count=refused]')?.textContent)).toBe('0');

  await synced(phone);
  await booksByOperation(phone);
  expect(await goodsInBooks(phone)).toBe('7.00');
});
