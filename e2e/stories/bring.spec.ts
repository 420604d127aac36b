/** What a shop has in other programs comes along: customers from a table and from contact cards, and prices; one undo takes each back. */
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { test, type Phone } from '../helpers/test.ts';

const SEARCH = 'Been here before? Name, last digits, number or look';

/** Writes a file and returns its path. */
async function written(name: string, lines: string[]): Promise<string> {
  const path = join(await mkdtemp(join(tmpdir(), 'waxend-bring-')), name);
  await writeFile(path, lines.map((line) => `${line}\r\n`).join(''));
  return path;
}

/** Opens the screen and chooses a file on it. */
async function choose(phone: Phone, path: string): Promise<void> {
  await phone.press('Shop', 'link');
  await phone.press('Bring in customers or prices', 'link');
  await phone.finds('[data-ready=bring]');
  await phone.attach('Choose a file', path);
}

test('customers come from a table and from contact cards, are found at drop-off, and are taken out again', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await choose(phone, await written('customers.csv', [
    'Name,Telephone,E-mail,Loyalty points',
    'Ottoline Brack,555 0142,ottoline@shop.example,7',
    'Ines Vell,555 0143,,',
    ',,,3',
  ]));
  await phone.sees('2 new customers');
  await phone.sees('Ottoline Brack, 555 0142, ottoline@shop.example');
  await phone.sees('These columns were not understood: Loyalty points');
  await phone.sees('Line 4: , , , 3 – neither a name nor a telephone number');
  await phone.press('Bring these in');
  await phone.sees('2 customers were brought in.');

  await phone.press('Drop-off', 'link');
  await phone.fill(SEARCH, 'brack');
  await phone.press(/^Ottoline Brack/);
  await phone.sees('Somebody else');
  await phone.press('Somebody else');

  // Whom no pair names can be seen and erased, too.
  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', 'brack');
  await phone.finds('[aria-label="Customers without a pair"] details');
  await phone.run(() => document.querySelector<HTMLDetailsElement>('[aria-label="Customers without a pair"] details')!.setAttribute('open', ''));
  await phone.sees('555 0142, ottoline@shop.example');
  await phone.sees('Forget this customer');

  const cards = await written('cards.vcf', [
    'BEGIN:VCARD', 'VERSION:3.0', 'FN:Ottoline Brack', 'TEL;TYPE=CELL:+00 555 0142', 'END:VCARD',
    'BEGIN:VCARD', 'VERSION:3.0', 'FN:Ada', '  Lorn', 'TEL;TYPE=CELL:555 0144', 'END:VCARD',
  ]);
  await choose(phone, cards);
  await phone.sees('1 new customer');
  await phone.sees('1 is perhaps known already');
  await phone.press('Bring these in');
  await phone.sees('1 customer was brought in.');

  // Each file is taken back by one tap, the last one first.
  await phone.press('Undo');
  await phone.seesNo('1 customer was brought in.');
  await phone.sees('2 customers were brought in.');
  await phone.press('Undo');
  await phone.seesNo('2 customers were brought in.');
  // Nobody is known any more.
  await phone.attach('Choose a file', cards);
  await phone.sees('2 new customers');
});

test('a price list comes from a table, and one tap brings the former prices back', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await choose(phone, await written('prices.csv', ['Work;Shoe;Boot', 'Half soles;41,50;44', 'Flying;1;2']));
  await phone.sees('2 prices that are new or changed');
  await phone.sees('Half soles, Shoe: 41.50');
  await phone.sees('no such work is known');
  await phone.press('Bring these in');
  await phone.sees('2 prices were brought in.');

  const price = (wanted: string): Promise<unknown> =>
    phone.until('the price stands in the list', (wanted) => document.querySelector<HTMLInputElement>('[aria-label="Half soles, Shoe"]')?.value === wanted, wanted);
  await phone.press('Shop', 'link');
  await phone.press('Price list', 'link');
  await price('41.50');
  await phone.press('Shop', 'link');
  await phone.press('Bring in customers or prices', 'link');
  await phone.sees('2 prices were brought in.');
  await phone.press('Undo');
  await phone.seesNo('2 prices were brought in.');
  await phone.press('Shop', 'link');
  await phone.press('Price list', 'link');
  await price('');
});
