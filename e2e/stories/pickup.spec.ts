/** Pickup: the amount due, a final check that cannot be skipped, a card, and the hand-over. */
import { amountAfter, amountToPay, stubOnPaper } from '../helpers/amounts.ts';
import { counting } from '../helpers/counting.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { checked, joined, noteStep, shoot, synced, takeIn } from '../helpers/work.ts';

const SAID = { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '555 0142' };

/** The lines of the final check for half soles on a pair without accessories, when no step was noted. */
const LINES = [
  'Done, though not noted: Half soles',
  'Felt inside by hand, left: no points',
  'Felt inside by hand, right: no points',
  'Heels level',
  'No cement smears',
  'Laces, inserts and sock linings back',
  'Left and right are of one pair',
  'Tags off',
  'Hours since cementing counted, first wear told',
];

async function toPickup(phone: Phone, tag = 'A1'): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}`), 'link');
  await phone.press('Collection', 'link');
  await phone.sees('Final check');
}

test('the final check refuses what is unticked and what is out; then one press each pays and hands over', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  // A part on the drawing; the list below it has a button with the same name.
  await phone.until('the part is on the drawing', () =>
    document.querySelector('.drawing [aria-label=Shank]')?.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  await phone.press('Loose');
  await phone.press(/^Keep/);
  await phone.sees('Must go back in');

  await toPickup(phone);
  await phone.press('Hand over');
  await phone.sees('Not back in: Shank');
  const [left, ...others] = LINES as [string, ...string[]];
  const hand = counting(phone);
  for (const line of others) await hand.press(line, 'checkbox');
  await hand.press('Checked');
  await phone.sees(`Not ticked: ${left}.`);
  // The ticks are kept after the page is loaded again.
  await phone.reload();
  await phone.until('the ticks are there', (wanted) => document.querySelectorAll('[aria-label="Final check"] :checked').length === wanted, others.length);
  await hand.press(left, 'checkbox');
  await hand.press('Checked');
  await phone.sees('Not back in: Shank');
  expect(await phone.count('[aria-label="Final check"] .good'), 'not ready').toBe(0);

  await phone.press('Put them back', 'link');
  await phone.press('Is back in');
  await phone.seesNo('Must go back in');
  await toPickup(phone);
  await hand.press('Checked');
  await phone.finds('[aria-label="Final check"] .good');
  await phone.sees('Ready to collect: chestnut walking boot (A1). Due: 65.00.');
  await hand.press(/^Paid now/);
  await phone.sees('Nothing is due.');
  await hand.press('Hand over');
  await phone.sees('Handed over.');
  // One press for each line, two that were refused, and three for ready, paid and handed over.
  expect(hand.presses()).toBe(LINES.length + 2 + 3);
  await phone.press('Withdraw the hand-over');
  await phone.sees('It is in the shop again.');
});

test('pairs of one ticket are collected together, and wait in the list of what nobody came for', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await toPickup(phone);
  await phone.fill('Shelf', 'window, left');
  await checked(phone);
  await phone.press('Records', 'link');
  await phone.press('Not collected', 'link');
  await phone.sees('Ready since today');
  await phone.sees('ready, shelf window, left');
  expect(await phone.has('Ready notice', 'button')).toBe(true);
  await phone.press(/^Ready since today/, 'link');
  await phone.sees('Due 65.00');
  await phone.run(() => document.querySelector<HTMLElement>('[aria-label=Money] summary')?.click());
  await phone.fill('Amount paid', '20,50');
  await phone.press('This was paid');
  await phone.sees('Due 44.50');
  await phone.press(/^Withdraw the entry: Paid/);
  await phone.sees('Due 65.00');
  await phone.press('Hand over the one that is ready');
  await phone.sees('has left the shop');
});

test('notice, button, ticket and paper name one amount for a pair: its price, the added tax, less the deposit', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Shop', 'link');
  await phone.fill('Tax in per cent; empty for none', '8.1');
  await phone.press('Added to them');
  await phone.press('Save money');
  await phone.sees('Saved.');
  await phone.press('Drop-off', 'link');
  await phone.press(SAID.work);
  await phone.fill(`Price of ${SAID.work}`, SAID.price);
  await phone.press('+ another pair');
  await phone.press('Heels (top pieces)');
  await phone.fill('Price of Heels (top pieces)', '3');
  await phone.press('In 3 days');
  await phone.press('Deposit');
  await phone.fill('Deposit paid now', '20');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');

  // 8.1 % on 65.00 is 5.265, so 70.27, of which 20.00 are paid; on 68.00 it is 5.508, so 53.51 for both.
  const [due, both] = ['50.27', '53.51'];
  const money = '[aria-label=Money] .figures';
  await toPickup(phone);
  await checked(phone);
  expect(await amountAfter(phone, '[aria-label="Tell the customer"]', 'Due:'), 'in the notice').toBe(due);
  expect(await amountToPay(phone, 'this pair'), 'on the button').toBe(due);
  expect(await amountAfter(phone, money, 'Due for this pair'), 'in its account').toBe(due);
  expect(await amountAfter(phone, '[aria-label="Hand over"]', 'Still due for this pair:'), 'at the hand-over').toBe(due);
  expect(await amountToPay(phone, 'all 2 pairs')).toBe(both);
  await phone.press('Its ticket: 2 pairs', 'link');
  expect(await amountAfter(phone, money, 'Due for the one that is ready'), 'on the ticket').toBe(due);
  expect(await amountToPay(phone, 'the one that is ready'), 'on its button').toBe(due);
  expect(await amountAfter(phone, '[aria-label="Tell the customer"]', 'Due:'), 'in its notice').toBe(due);
  expect(await amountAfter(phone, money, 'Due for all 2 pairs')).toBe(both);
  await phone.press('Stub and tags', 'link');
  const paper = await stubOnPaper(phone);
  expect(await amountAfter(phone, '.stub .figures', 'Due for the one that is ready'), 'on the stub').toBe(due);
  expect(await amountAfter(phone, '.stub .figures', 'Due for all 2 pairs')).toBe(both);
  for (const amount of [due, both]) expect(paper, 'on paper').toContain(amount);

  await toPickup(phone);
  await phone.press(/^Paid now: .*for this pair$/);
  await phone.sees('Nothing is due for this pair.');
  expect(await phone.count('[aria-label="Hand over"] strong'), 'nothing is still due for it').toBe(0);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
  // What the other pair pays is what the ticket still lacks, to the cent.
  await toPickup(phone, 'A2');
  expect(await amountToPay(phone, 'this pair')).toBe('3.24');
  await phone.press(/^Paid now/);
  await phone.sees('Nothing is due.');
});

test('the card says what is ticked, and is kept by the customer', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, SAID);
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press('Photograph A1', 'link');
  await shoot(phone, 1);
  await noteStep(phone, 'Half soles');
  await toPickup(phone);
  await phone.sees('Please wait 24 hours before the first wear.');
  await phone.press('The price', 'checkbox');
  await phone.press('6 months');
  await phone.press('Put shoe trees in after wear.', 'checkbox');
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await synced(phone);
  await toPickup(phone);
  const card = await phone.until('the card has an address', () => document.querySelector<HTMLAnchorElement>('.address a[href]')?.href);
  const reader = await newPhone({ script: 'off' });
  await reader.open(card);
  await reader.sees('Price: 65.00');
  await reader.sees('Look again:');
  await reader.sees('Come back as soon as an edge opens.');
  await reader.seesNo('A small gap is soon closed.');
  await reader.run(() => {
    for (const one of document.querySelectorAll<HTMLDetailsElement>('.advice details')) one.open = true;
  });
  await reader.sees('Come back as soon as an edge opens. A small gap is soon closed.');
  await reader.seesNo('Put shoe trees in');
});
