/** A double tap does nothing twice, and mistakes can be corrected. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { checked, joined, leaveCamera, shoot, takeIn, unfoldRun } from '../helpers/work.ts';

/** A double tap on the button whose text begins with `begins`; returns its text. */
const twice = (phone: Phone, begins: string): Promise<string> =>
  phone.until(`two taps on "${begins}"`, (words) => {
    const button = [...document.querySelectorAll('button')].find((one) => one.textContent.startsWith(words));
    button?.click();
    button?.click();
    return button?.textContent;
  }, begins);

/** The amount in minor units beside a label in a ticket's account. */
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
  for (const tap of ['Stiffener', 'Crushed', 'Replace', 'Customer']) await phone.press(tap);
  await phone.press('I have asked');
  await phone.sees('Asked. The pair is held until there is an answer.');
  const agreed = await twice(phone, 'Yes: Stiffener rebuild');
  await phone.sees('Agreed: Stiffener rebuild');
  const extra = Math.round(Number(/\d+\.\d\d/.exec(agreed)?.[0]) * 100);
  expect(extra).toBeGreaterThan(0);

  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
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
  await phone.press('Collection', 'link');
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
  await phone.fill('Your name', 'Maud');
  await phone.press('Add');
  await phone.press('Maud has left');
  await phone.sees('Maud has left.');
  await phone.press('Undo');
  await phone.finds('[aria-label=People] ul li');
});

test('what was done on a pair is taken back on that pair, and no longer once it has left', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  for (const look of ['walking boot', 'court shoe']) {
    await takeIn(phone, { work: 'Half soles', price: '65', look });
    await shoot(phone, 1);
    await phone.press('Done, to the Bench', 'link');
  }
  await phone.press(/^A1/, 'link');
  await phone.press('Half soles: done');
  await phone.sees('Half soles noted.');
  expect(await phone.count('.undo button'), 'on the pair').toBe(1);
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench]');
  expect(await phone.count('.undo button'), 'on the Bench').toBe(0);
  await phone.press('Photograph A2', 'link');
  await phone.finds('.shutter:not([disabled])');
  expect(await phone.until('what can be undone here', () => document.querySelector('.undo')?.textContent)).toContain('Photograph of A2');

  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.finds('.undo button');
  await phone.press('Collection', 'link');
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('It has left the shop');
  await phone.press(/History$/, 'link');
  await phone.finds('.photographs');
  await phone.run(() => history.back());
  await phone.sees('It has left the shop');
  await phone.run(() => history.back());
  await phone.finds('[data-ready=work]');
  expect(await phone.count('.undo button'), 'after it has left').toBe(0);
});

test('a ticket of two says what each costs and what is paid at once', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Drop-off', 'link');
  await phone.press('Half soles');
  await phone.fill('Price of Half soles', '65');
  await phone.press('+ another pair');
  await phone.press('Stretch');
  await phone.fill('Price of Stretch', '12.50');
  await phone.press('Tomorrow');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
  await phone.press('Next pair');
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await phone.sees('A1 Half soles');
  await phone.sees('A2 Stretch');
  expect(await figure(phone, 'Total')).toBe(7750);
  await checked(phone);
  // The pair that is ready can be collected for its own price.
  await phone.until('the notice names what is due for it', () =>
    /Due: \S*65\.00\./.test(document.querySelector('[aria-label="Tell the customer"]')?.textContent ?? ''));
  expect(await phone.until('what all of it costs', () => [...document.querySelectorAll('button')].find((one) => one.textContent.startsWith('Paid now'))?.textContent)).toMatch(/77\.50.*for all 2 pairs/);
  await phone.press(/^Paid now: .*for this pair$/);
  await phone.until('the other is still due', () => document.querySelector('[aria-label=Payments] li') !== null);
  expect(await figure(phone, 'Due')).toBe(1250);
  // A payment of more than the amount due is refused.
  await phone.run(() => document.querySelectorAll('details').forEach((one) => one.setAttribute('open', '')));
  await phone.fill('Amount paid', '500');
  await phone.press('This was paid');
  await phone.sees('That is more than is due: 12.50');
  await twice(phone, 'Paid now');
  await phone.sees('Nothing is due.');
});

test('who waits in the shop is waited for: it is done first, and says so', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot' });
  await shoot(phone, 1);
  await leaveCamera(phone);
  await phone.press('Drop-off', 'link');
  await phone.press('Heels (top pieces)');
  await phone.fill('Price of Heels (top pieces)', '18');
  await phone.press('Customer waits');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
  await phone.press('Bench', 'link');
  await unfoldRun(phone);
  await phone.sees('The customer of A2 waits.');
  await phone.until('its row says so', () => [...document.querySelectorAll('.bench-row .mark')].some((mark) => mark.textContent === 'Customer waits'));
});

test('a pair is not called ready while nobody says that its work is done', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await phone.press('Drop-off', 'link');
  await phone.press('Half soles');
  await phone.fill('Price of Half soles', '65');
  await phone.press('Stretch');
  await phone.fill('Price of Stretch', '9');
  await phone.press('Tomorrow');
  await phone.press('Take in and photograph');
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  // The ticket has a second operation; only this one is noted.
  await phone.press('Half soles: done');
  await phone.press('Collection', 'link');
  await phone.until('all but the first line are ticked', () => {
    const boxes = [...document.querySelectorAll<HTMLInputElement>('[aria-label="Final check"] .ticks input')];
    boxes.slice(1).filter((box) => !box.checked).forEach((box) => box.click());
    return boxes.length > 1;
  });
  await phone.press('Checked');
  await phone.sees('Not ticked: Done, though not noted: Stretch.');
  await phone.press('Done, though not noted: Stretch', 'checkbox');
  await phone.press('Checked');
  await phone.finds('[aria-label="Final check"] .good');
  // An operation ticked as done is on the card as well.
  await phone.until('the card tells of both', () => document.querySelector('.preview')?.textContent.includes('Stretched on the last for more room.'));
});
