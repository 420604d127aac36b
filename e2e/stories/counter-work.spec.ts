/** What is said of the work at the counter: what the pair is made of, in what the work is done, how many, in which package. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { joined, synced } from '../helpers/work.ts';

/** Waits until this price stands in a line of a pair, both counted from 0. */
async function costs(phone: Phone, pair: number, line: number, price: string): Promise<void> {
  await phone.until(`line ${line} of pair ${pair} costs ${price}`,
    (id, price) => document.querySelector<HTMLInputElement>(`#${id}`)?.value === price, `price-${pair}-${line}`, price);
}

async function isPressed(phone: Phone, name: string): Promise<void> {
  await phone.until(`${name} is chosen`, (name) =>
    [...document.querySelectorAll('button[aria-pressed=true]')].some((one) => one.textContent === name), name);
}

/** Opens the work on a pair from the Bench. */
async function openWork(phone: Phone, tag: string): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
  await phone.finds('[data-ready=work]');
}

test('what was said of the work at the counter stands on the bench, and on another phone', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.press('Drop-off', 'link');

  // By hand: leather is 125 % of 16; one shoe is 60 % of these 20.
  await phone.press('Shoe');
  await phone.press('Suede or nubuck');
  await phone.press('Leather sole');
  await phone.press('Heels (top pieces)');
  await costs(phone, 0, 0, '16');
  await phone.press('Leather');
  await costs(phone, 0, 0, '20');
  await phone.press('Left');
  await costs(phone, 0, 0, '12');

  await phone.press('+ another pair');
  await phone.press('Boot');
  await phone.press('Zip');
  await phone.press('One more, Zip');
  await costs(phone, 1, 0, '96');

  // 92 % of 38 and 16, rounded to 50, shared as the list prices are, in whole units.
  await phone.press('+ another pair');
  await phone.press('Shoe');
  await phone.press('Half soles and heels');
  await costs(phone, 2, 0, '35');
  await costs(phone, 2, 1, '15');
  await phone.press('Without Half soles');
  await costs(phone, 2, 0, '16');
  await phone.press('Half soles and heels');
  await costs(phone, 2, 1, '35');

  await phone.press('+ another pair');
  await phone.press('Shoe');
  await phone.press('Long soles, cemented');
  await phone.sees('Heels too?');
  await phone.press('Add Heels');
  await phone.seesNo('Heels too?');
  await phone.sees('As Long soles and heels, cemented');
  await costs(phone, 3, 0, '60');
  await costs(phone, 3, 1, '15');
  await phone.press('More work');
  await phone.fill('Find work', 'edge trim');
  await phone.until('what is part of the new sole cannot be chosen', () =>
    [...document.querySelectorAll('button.chip[disabled]')].some((one) => one.textContent === 'Edge trim and ink: part of Long soles, cemented'));

  await phone.press('In 7 days');
  // 12, 96, 50 and 75.
  expect(await phone.run(() => document.querySelector('[data-total]')?.textContent)).toBe('233.00');
  await phone.press('Take in and print');
  await phone.sees('Left with us');

  await openWork(phone, 'A4');
  await phone.sees('What is it made of? Heat melts or shrinks some soles and uppers.');
  await phone.press('Textile');
  await phone.press('Rubber sole');
  await isPressed(phone, 'Textile');
  await isPressed(phone, 'Rubber sole');
  await phone.press('Long soles, cemented: done');
  await phone.sees('Long soles, cemented noted.');
  await synced(phone);

  const second = await newPhone();
  await joined(second, server);
  await synced(second);
  await openWork(second, 'A1');
  await second.sees('Heels (top pieces), leather, left');
  await second.press(/History$/, 'link');
  await second.sees('Suede or nubuck, Leather sole');
  await openWork(second, 'A2');
  await second.sees('Zip × 2');
  await openWork(second, 'A3');
  await second.sees('Half soles');
  await second.sees('Heels (top pieces)');
  await openWork(second, 'A4');
  await second.seesNo('What is it made of?');
  await second.press(/History$/, 'link');
  await second.sees('Textile, Rubber sole');
});

test('the left shoe gets leather and the right one rubber, in one visit', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Drop-off', 'link');
  await phone.press('Shoe');
  await phone.press('Heels (top pieces)');
  await phone.press('Leather');
  await phone.press('Left');
  // 60 % of 20.
  await costs(phone, 0, 0, '12');
  await phone.press('The other shoe differently, Heels (top pieces)');
  await phone.press('Rubber, Heels (top pieces), right');
  // 60 % of 16, rounded up.
  await costs(phone, 0, 1, '10');
  await costs(phone, 0, 0, '12');
  await phone.fill('Price of Heels (top pieces), right', '9');

  // What is put aside comes back with both lines.
  await phone.press('Put aside, next customer');
  await phone.press(/^Go on with /);
  await costs(phone, 0, 0, '12');
  await costs(phone, 0, 1, '9');
  await phone.press('In 7 days');
  await phone.press('Take in and print');
  await phone.sees('Left with us');
  await phone.sees('Heels (top pieces), leather, left; Heels (top pieces), rubber, right');

  await phone.press('Bench', 'link');
  await phone.sees('Heels (top pieces), leather, left');
  await openWork(phone, 'A1');
  await phone.press('Heels (top pieces), leather, left: done');
  await phone.sees('Heels (top pieces), leather, left noted.');
  await phone.press('Heels (top pieces), rubber, right: done');
  await phone.sees('Heels (top pieces), rubber, right noted.');
});

test('the shop\'s own prices of a variant, of one shoe and of a package are the prices at the counter', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await phone.press('Shop', 'link');
  await phone.press('Price list', 'link');
  /** Writes a price and waits until it is saved: it then stands there with its decimals. */
  const write = async (label: string, price: string): Promise<void> => {
    await phone.fill(label, price);
    await phone.key('Tab');
    await phone.until(`${label} is saved`, (label, saved) =>
      document.querySelector<HTMLInputElement>(`[aria-label="${label}"]`)?.value === saved, label, `${price}.00`);
  };
  await phone.press('Heels (top pieces)');
  await write('Heels (top pieces), Leather, Shoe', '24');
  await write('Heels (top pieces), One shoe, Shoe', '11');
  await phone.press('Packages');
  await write('Half soles and heels, Shoe', '48');

  await phone.press('Drop-off', 'link');
  await phone.press('Shoe');
  await phone.press('Heels (top pieces)');
  await phone.press('Leather');
  await costs(phone, 0, 0, '24');
  await phone.press('Left');
  // 11 for one in rubber, which is 16 for both: 16.50 for one in leather, rounded.
  await costs(phone, 0, 0, '17');
  await phone.press('Rubber');
  await costs(phone, 0, 0, '11');
  await phone.press('Both');
  await costs(phone, 0, 0, '16');
  await phone.fill('Price of Heels (top pieces)', '15.50');
  await phone.press('Right');
  await costs(phone, 0, 0, '15.50');
  await phone.press('Both');
  await phone.press('Half soles and heels');
  await costs(phone, 0, 0, '14');
  await costs(phone, 0, 1, '34');
});
