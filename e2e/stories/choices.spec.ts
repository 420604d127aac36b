/** Two ways to repair and what each costs per year: calculated, corrected, asked, and agreed. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { shoot, takeIn } from '../helpers/work.ts';

/** Opens the question about a cracked welt on a pair that was taken in. */
async function toAsk(phone: Phone, url: string, hour: string): Promise<void> {
  await phone.open(url);
  await phone.finds('[data-ready=bench]');
  if (hour !== '') {
    await phone.press('Shop', 'link');
    await phone.fill('Hourly target, without tax', hour);
    await phone.press('Save money');
    await phone.sees('Saved.');
  }
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'welted derby' });
  await shoot(phone, 1);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^1 /, 'link');
  await phone.press('Opening up', 'link');
  await phone.press('Welt');
  await phone.press('Cracked');
  await phone.press('Replace');
  await phone.press('Customer');
  await phone.sees('Ask about 1');
}

async function valueOf(phone: Phone, label: string): Promise<string> {
  return phone.run((label) => {
    const named = [...document.querySelectorAll('label')].find((one) => one.textContent?.startsWith(label));
    const id = named?.getAttribute('for') ?? '';
    return document.querySelector<HTMLInputElement>(`#${id}`)?.value ?? '';
  }, label);
}

test('with an hourly target a price is time and material, and what cannot be is said in words', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await toAsk(phone, (await site()).url, '48');
  await phone.sees('Prices are worked out at 48.00 an hour.');
  // Calculated by hand: a welt piece takes 45 minutes, which cost 36.00 at 48.00 an hour; it lasts 4 years, so 9.00 a
  // year.
  await phone.sees('Welt piece: 36.00, lasts about 4 years, 9.00 a year.');
  // A new welt takes 240 minutes: 192.00; over 8 years 24.00 a year.
  await phone.sees('Full rewelt: 192.00, lasts about 8 years, 24.00 a year.');
  await phone.sees('A year of wear costs least with: Welt piece.');
  await phone.sees('Leave as it is: no charge.');

  await phone.run(() => document.querySelectorAll('details.way').forEach((one) => one.setAttribute('open', '')));
  await phone.fill('Material of the first', '4');
  await phone.sees('Welt piece: 40.00, lasts about 4 years, 10.00 a year.');
  await phone.fill('Months the first lasts', '12');
  await phone.sees('Welt piece: 40.00, lasts about 1 year, 40.00 a year.');
  await phone.sees('A year of wear costs least with: Full rewelt.');

  await phone.fill('Minutes of the first', '-5');
  await phone.sees('Minutes: a number from 0 to 100000.');
  await phone.fill('Minutes of the first', '45');
  await phone.seesNo('Minutes: a number');
  await phone.fill('Price of the first', 'dear');
  await phone.sees('Price: an amount like 45.50, or nothing for no charge.');
  await phone.press('I have asked');
  await phone.until('it is refused in words', () => document.querySelector('.say.bad')?.textContent?.includes('Price: an amount'));
  expect(await valueOf(phone, 'Price of the first'), 'nothing is lost').toBe('dear');
  await phone.fill('Price of the first', '39.90');
  await phone.press('I have asked');
  await phone.sees('Asked. The pair is held until there is an answer.');
  await phone.press(/^Yes: Full rewelt, 192.00/);
  await phone.sees('Agreed: Full rewelt.');
});

test('without one the prices are those of the list', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await toAsk(phone, (await site()).url, '');
  await phone.sees('Prices are those of the list.');
  const price = await valueOf(phone, 'Price of the first');
  expect(Number(price)).toBeGreaterThan(0);
  await phone.sees(`Welt piece: ${price}, lasts about 4 years`);
});
