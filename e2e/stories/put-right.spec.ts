/** What a hand that trembles does twice is done once, and what was done wrong can be put right. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { joined, shoot, takeIn } from '../helpers/work.ts';

/** Two taps in one on the button whose words begin so; answers its words. */
const twice = (phone: Phone, begins: string): Promise<string> =>
  phone.until(`two taps on "${begins}"`, (words) => {
    const button = [...document.querySelectorAll('button')].find((one) => one.textContent.startsWith(words));
    button?.click();
    button?.click();
    return button?.textContent;
  }, begins);

/** The minor units behind a label in the figures of a ticket. */
const figure = (phone: Phone, label: string): Promise<number> =>
  phone.until(`the figure ${label}`, (wanted) => {
    const term = [...document.querySelectorAll('.figures dt')].find((one) => one.textContent === wanted);
    const amount = /\d+\.\d\d/.exec(term?.nextElementSibling?.textContent ?? '')?.[0];
    return amount ? Math.round(Number(amount) * 100) : undefined;
  }, label);

test('two taps in one agree once and pay once', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  for (const tap of ['Counter', 'Crushed', 'Replace', 'Customer']) await phone.press(tap);
  await phone.press('I have asked');
  await phone.sees('Asked. The pair is held until there is an answer.');
  const agreed = await twice(phone, 'Yes: Counter rebuild');
  await phone.sees('Agreed: Counter rebuild');
  const extra = Math.round(Number(/\d+\.\d\d/.exec(agreed)?.[0]) * 100);
  expect(extra).toBeGreaterThan(0);

  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Pickup', 'link');
  expect(await figure(phone, 'Total')).toBe(6500 + extra);
  await twice(phone, 'Paid now');
  await phone.sees('Nothing is due.');
  expect(await phone.count('[aria-label=Payments] li')).toBe(1);
});

test('another day is agreed for a ticket, and the day that is past is said', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', day: '2020-01-01' });
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.sees('Due today or late');
  await phone.press(/^A1/, 'link');
  await phone.press('Pickup', 'link');
  await phone.press('Its ticket', 'link');
  await phone.sees('Promise another day');
  expect(await phone.count('.undo button'), 'what was done to the pair is not taken back here').toBe(0);
  await phone.until('the day is written', () => {
    const details = [...document.querySelectorAll('details')].find((one) => one.textContent.includes('Promise another day'));
    const field = details?.querySelector<HTMLInputElement>('input[type=date]');
    if (!details || !field) return false;
    details.open = true;
    field.value = '2031-03-05';
    field.dispatchEvent(new Event('input', { bubbles: true }));
    return true;
  });
  await phone.press('This day is agreed');
  await phone.sees('Promised for Wednesday 5 March 2031.');
  await phone.sees('for Wednesday 5 March 2031');
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench]');
  await phone.seesNo('Due today or late');
});

test('who was said to have left by mistake is back with one tap', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.press('Shop', 'link');
  await phone.fill('Somebody else', 'Maud');
  await phone.press('Add');
  await phone.press('Maud has left');
  await phone.sees('Maud has left.');
  await phone.press('Undo');
  await phone.finds('[aria-label=People] ul li');
});
