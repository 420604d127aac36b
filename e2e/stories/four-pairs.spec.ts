/** At the counter: four pairs of one customer, an interruption, a returning customer, and missing input. */
import { counting } from '../helpers/counting.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { leaveCamera, takeIn } from '../helpers/work.ts';

async function atTheCounter(phone: Phone, url: string): Promise<void> {
  await phone.open(url);
  await phone.finds('[data-ready=bench]');
}

/** In the page: the jobs in the address of the camera. */
function run(): string[] {
  return (new URLSearchParams(location.search).get('run') ?? '').split(',');
}

const total = (): string => document.querySelector('[data-total]')!.textContent!;

test('four pairs of one customer stand on one ticket within three minutes', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheCounter(phone, (await site()).url);
  const began = Date.now();
  const hand = counting(phone);
  await hand.press('Drop-off', 'link');
  await hand.fill("Customer's name", 'Ottoline Brack');
  await hand.press('Walking boot');
  await hand.press('Half soles');
  await hand.press('Heels (top pieces)');
  await hand.press('+ another pair');
  await hand.press('Court shoe');
  await hand.press('Heels (top pieces)');
  await hand.press('+ another pair');
  await hand.press('Boot');
  await hand.press('Zip');
  await hand.fill('Price of Zip', '55');
  await hand.press('+ another pair');
  await hand.press('Belt');
  await hand.press('New hole');
  await hand.press('In 3 days');
  // The norms are 48 and 22, 10, and 3; 55 was typed.
  await phone.until('the total is right', (wanted) => document.querySelector('[data-total]')?.textContent === wanted, '138.00');
  await hand.press('Take in and photograph');
  await phone.finds('.camera');

  const jobs = await phone.until('the run is in the address', run);
  expect(new Set(jobs).size).toBe(4);
  expect(await phone.address()).toContain(`/camera/${jobs[0]}?shows=drop_off`);
  // Kind, work and the button for the next pair: at most four presses per pair, including those for the screen, the day
  // and the end.
  expect(hand.presses()).toBeLessThanOrEqual(4 * 4);
  expect(hand.fields()).toBe(2);
  expect(Date.now() - began).toBeLessThan(180_000);

  await phone.press('Bench', 'link');
  await phone.until('four pairs are in the shop', () => document.body.innerText.split('Ottoline Brack').length === 5);
});

test('a half-finished drop-off is kept when the next customer interrupts', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheCounter(phone, (await site()).url);
  await phone.press('Drop-off', 'link');
  await phone.fill("Customer's name", 'Ottoline Brack');
  await phone.press('Boot');
  await phone.press('Half soles');
  await phone.press('+ another pair');
  await phone.fill('Colour', 'oxblood');
  await phone.press('Put aside, next customer');
  await phone.sees('Half-finished: 2 pairs, Ottoline Brack');
  // The form for the next customer is empty.
  await phone.until('nobody is looked for', () => [...document.querySelectorAll('input')].every((field) => field.value === ''));
  await phone.fill("Customer's name", 'Ines Vell');
  await phone.press('Sandal');
  await phone.press('Bench', 'link');
  await phone.reload();
  await phone.press('Drop-off', 'link');
  await phone.sees('Half-finished: 1 pair, Ines Vell');

  await phone.press('Delete 1 pair, Ines Vell');
  await phone.press('Undo');
  await phone.press('Go on with 2 pairs, Ottoline Brack');
  await phone.until('it stands as it was left', () => {
    const values = [...document.querySelectorAll('input')].map((field) => field.value);
    return values.includes('Ottoline Brack') && values.includes('oxblood');
  });
  expect(await phone.run(total)).toBe('40.00');
  await phone.press('Sandal');
  await phone.press('More work');
  await phone.press('Stretch');
  await phone.fill('Price of Stretch', '9.50');
  await phone.press('Tomorrow');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
  await leaveCamera(phone);
  await phone.press('Drop-off', 'link');
  await phone.sees('Half-finished: 1 pair, Ines Vell');
  await phone.seesNo('Ottoline Brack');
});

test('what is missing is named, is where the focus goes, and nothing typed is lost', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheCounter(phone, (await site()).url);
  await phone.press('Drop-off', 'link');
  const focused = (id: string): boolean => document.activeElement?.id === id;
  await phone.press('Boot');
  await phone.press('Half soles');
  await phone.fill('Price of Half soles', '-40');
  await phone.press('+ another pair');
  // The form says at once that the total lacks a price.
  await phone.sees('without a price that cannot be read');
  await phone.press('Take in and photograph');
  await phone.sees('Pair 1: Half soles: “-40” is not a price');
  await phone.until('the focus is on the price', focused, 'price-0-0');
  await phone.fill('Price of Half soles', ' ');
  // The message disappears with the next key, not only when the pair is taken in.
  await phone.seesNo('is not a price');
  await phone.seesNo('cannot be read');
  await phone.press('Take in and photograph');
  await phone.sees('Pair 1: Half soles: the price is missing');
  await phone.fill('Price of Half soles', '40');
  await phone.press('Take in and photograph');
  await phone.sees('Pair 2: the work is missing.');
  await phone.until('the focus is on the work', focused, 'work-1');
  await phone.press('Stretch');
  await phone.fill('Price of Stretch', '12');
  await phone.press('Take in and photograph');
  await phone.sees('The day is missing.');
  await phone.until('the focus is on the day', focused, 'day');
  await phone.press('Today');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
});

test('somebody who comes back is found by the last digits, and so is the pair', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atTheCounter(phone, (await site()).url);
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack', telephone: '555 0142' });
  await leaveCamera(phone);
  const hand = counting(phone);
  await hand.press('Drop-off', 'link');
  await hand.fill('Been here before? Name, last digits, number or look', '0142');
  await phone.press(/^chestnut walking boot/);
  await phone.sees('Ottoline Brack 555 0142');
  await hand.press('Heels (top pieces)');
  await phone.fill('Price of Heels (top pieces)', '22');
  await hand.press('Tomorrow');
  await hand.press('Take in and photograph');
  await phone.finds('.camera');
  await leaveCamera(phone);
  await phone.press('Records', 'link');
  await phone.until('it is still one pair', () => document.body.innerText.split('chestnut walking boot').length === 2);
});
