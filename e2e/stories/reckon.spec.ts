/**
 * The trade's calculations in the course of the work: opened from the step, filled in with what is known, the answer
 * first, kept with the pair.
 */
import { expect, test, type Phone } from '../helpers/test.ts';
import { helper, openLife, shoot, takeIn, tapPhotograph } from '../helpers/work.ts';

/** Takes a pair in for this work and opens its remaining work. */
async function atWork(phone: Phone, url: string, work: string): Promise<void> {
  await phone.open(url);
  await phone.finds('[data-ready=bench]');
  await takeIn(phone, { work, price: '22', look: 'derby', colour: 'black' });
  await phone.press('Bench', 'link');
  await phone.press(/^1 /, 'link');
  await phone.finds('[data-ready=work]');
}

test('heel: the nail is pulled by direction, kept on the pair, and known the next time', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url, 'Heels (top pieces)');
  await helper(phone, 'Nails');
  await phone.press('Below, through the top piece');
  await phone.fill('Heel block, mm', '18');
  await phone.fill('Kept clear of the point, mm', '2');
  // 6 + 18 − 2 = 22 (common practice): not shorter, so the next one in stock.
  await phone.sees('Use 19 mm nails.');
  await phone.press('Heel block: more');
  await phone.sees('Use 22 mm nails.');
  // Two clicks on this button within a moment are two steps, and not a double tap that counts once.
  await phone.run(() => {
    const more = document.querySelector<HTMLElement>('[aria-label="Heel block: more"]')!;
    more.click();
    more.click();
  });
  await phone.until('two steps more', () => document.querySelector<HTMLInputElement>('.number:has([aria-label="Heel block: more"]) input')?.value === '21');
  await phone.fill('Heel block, mm', '18,5');
  await phone.sees('It must be shorter than 22.5 mm.');
  expect(await phone.count('svg .nail')).toBe(14);
  await phone.fill('Heel block, mm', 'thick');
  await phone.sees('Heel block: a number.');
  await phone.fill('Heel block, mm', '18');
  await phone.press('Save on the pair');
  await phone.sees('Saved on the pair.');
  await phone.press('Work', 'link');
  await phone.sees('Nails: Use 19 mm nails.');
  await helper(phone, 'Nails');
  await phone.sees('Use 19 mm nails.');

  await phone.press('Work', 'link');
  await helper(phone, 'Rubber line');
  await phone.finds('svg .cut');
  await phone.press('Work', 'link');
  await helper(phone, 'Level the pair');
  await phone.fill('Left, at the back, mm', '32');
  await phone.sees('Take 2 mm off the left, at the back.');
  await openLife(phone, '1');
  await phone.sees('Nails: Use 19 mm nails.');
});

test('sole and cement: size and thickness, a guard and the pitch, when to feel the cement', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url, 'Sole guards');
  await helper(phone, 'Sole size');
  await phone.fill('Size', '43');
  await phone.sees('Use size 43 (EU) at 5 mm.');
  await phone.press('Work', 'link');
  await helper(phone, 'Pitch');
  await phone.sees('Put 2 mm under the heel, or the toe comes up.');
  await phone.press('Work', 'link');
  await helper(phone, 'Ready when');
  await phone.until('it says when to feel it', () => /Feel it from (tomorrow, )?\d\d:\d\d; join by/.test(document.querySelector('.answer')?.textContent ?? ''));
  await phone.sees("The product's own sheet rules.");
  await phone.press('Start the wait: 10 min');
  await phone.press('Bench', 'link');
  await phone.sees('10 min left');
});

test('lengths in inches, the nails on the shelf, and a colour recipe with its swatch', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url, 'Heels (top pieces)');
  await phone.press('Shop', 'link');
  await phone.fill('Nails on the shelf', '12 18');
  await phone.press('Save the nails');
  await phone.sees('Saved.');
  await phone.press('Inches');
  await phone.press('Bench', 'link');
  await phone.press(/^1 /, 'link');
  await helper(phone, 'Nails');
  // Inside: 3 + 5 + 25 − 3 = 30 mm; the longest in stock is 18 mm.
  await phone.sees('Use 0.71 in nails.');
  await phone.fill('Heel block, in', '0,5');
  await phone.sees('It must be shorter than 0.7 in.');

  const job = /reckon\/([-0-9a-f]+)\//.exec(await phone.address())?.[1] ?? '';
  await phone.open((await phone.address()).replace(/\/reckon\/.*/, `/reckon/${job}/dye`));
  await phone.fill('Parts 1', '3');
  await phone.fill('Of what 1', 'dark brown');
  await phone.fill('Parts 2', '1');
  await phone.fill('Of what 2', 'black');
  await phone.sees('3 parts dark brown, 1 part black.');
  await phone.press('Save on the pair');
  await phone.press('Photograph the swatch', 'link');
  await phone.finds('.camera');
});

test('how it is made is found by what can be seen, and taken as the guess', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await atWork(phone, (await site()).url, 'Half soles');
  await phone.press('Opening up', 'link');
  await phone.finds('details.which');
  await phone.run(() => document.querySelector('details.which')?.setAttribute('open', ''));
  await phone.press('A strip with a seam');
  await phone.press('No');
  await phone.press('Cannot tell');
  await phone.sees('It cannot be told before opening.');
  await phone.press('From the beginning');
  await phone.press('A strip with a seam');
  await phone.press('Yes');
  await phone.sees('Most likely: Blake-rapid');
  await phone.sees('Against it, if seen:');
  await phone.press('Take it as the guess');
  await phone.sees('As guessed: Blake-rapid.');
});

test('a length is measured on a photograph, beside a card, and kept', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await takeIn(phone, { work: 'Heels (top pieces)', price: '22', look: 'derby' });
  await shoot(phone, 1);
  await phone.press('Bench', 'link');
  await phone.press(/^1 /, 'link');
  await helper(phone, 'On a photograph');
  const shape = await phone.until('the photograph is there', () => {
    const image = document.querySelector<HTMLImageElement>('.measured-photo img');
    return image?.complete === true && image.naturalWidth > 0 ? image.naturalHeight / image.naturalWidth : undefined;
  });
  // A card photographed from straight above, two fifths of the picture wide; its sides are 85.60 and 53.98 mm (ISO/IEC
  // 7810, ID-1).
  const high = (0.4 * 53.98) / 85.6 / shape;
  for (const [x, y] of [[0.1, 0.1], [0.5, 0.1], [0.5, 0.1 + high], [0.1, 0.1 + high]] as const) await tapPhotograph(phone, x, y);
  await phone.sees('Now tap where what you measure begins.');
  await tapPhotograph(phone, 0.6, 0.6);
  await tapPhotograph(phone, 0.8, 0.6);
  // Half of the card's long side is 42.8 mm, apart from rounding to the whole pixels of a small screen.
  await phone.until('it is measured', () => /It measures 4[23](\.\d)? mm\./.test(document.querySelector('.answer')?.textContent ?? ''));
  await phone.press('Undo the last point');
  await phone.sees('And where it ends.');
  await tapPhotograph(phone, 0.8, 0.6);
  await phone.press('Save on the pair');
  await phone.press('Work', 'link');
  await phone.sees('On a photograph: It measures');
});
