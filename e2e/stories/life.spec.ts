/**
 * A pair's history: which parts were fitted, until when, and by whom; how they wore; two photographs of different years
 * side by side.
 */
import { expect, test, type Phone } from '../helpers/test.ts';
import { bringAgain, checked, helper, noteStep, shoot, takeIn, unfoldHistory } from '../helpers/work.ts';
import { daysAgo } from '../helpers/years.ts';

const SAID = { work: 'Heels (top pieces)', price: '22', look: 'derby', colour: 'oxblood', name: 'Ines Vell' };

/** From the camera: notes how high the heels are, notes the top pieces, and hands the pair over with its card. */
async function heels(phone: Phone, tag: string, leftBack: string): Promise<void> {
  await shoot(phone, 2);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(new RegExp(`^${tag} `), 'link');
  await phone.finds('[data-ready=work]');
  await helper(phone, 'Level the pair');
  await phone.fill('Left, at the back, mm', leftBack);
  await phone.press('Save on the pair');
  await phone.sees('Saved on the pair.');
  await phone.press('Bench', 'link');
  await phone.press(`Photograph ${tag}`, 'link');
  await phone.choose('Operation', 'Heels (top pieces)');
  await noteStep(phone, 'Heels (top pieces)');
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag} `), 'link');
  await phone.press('Collection', 'link');
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await checked(phone);
  await phone.press('Hand over');
  await phone.sees('Handed over.');
}

async function itsLife(phone: Phone): Promise<void> {
  await phone.press('Records', 'link');
  await phone.press(/oxblood derby/, 'link');
  await phone.finds('.photographs');
  await unfoldHistory(phone);
}

/** Taps a part on the drawing; the list below it has a button with nearly the same name. */
async function tapPart(phone: Phone, label: string): Promise<void> {
  await phone.until(`${label} is on the drawing`, (label) =>
    document.querySelector(`.drawing [aria-label="${label}"]`)?.dispatchEvent(new MouseEvent('click', { bubbles: true })), label);
}

/** The position of the divider, from the clipping of the picture. */
function divided(): string | undefined {
  return document.querySelector<HTMLElement>('.laid')?.style.getPropertyValue('--at');
}

test('a pair comes back after fourteen months: was this ours, how did it wear, then beside now', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await phone.press('Shop', 'link');
  await phone.fill('Guarantee terms', 'Six months on the work.');
  await phone.press('Save');
  await phone.sees('Saved.');

  await daysAgo(phone, 427);
  await takeIn(phone, SAID);
  await heels(phone, '1', '32');
  await itsLife(phone);
  await phone.sees('Top piece on since');
  expect(await phone.count('svg.wear-line'), 'one measurement is a sentence').toBe(0);
  await phone.sees('Heel height, left, at the back: 32 mm on');

  await daysAgo(phone, 0);
  await bringAgain(phone, { work: 'Heels (top pieces)', price: '22' });
  await phone.press('Overlay last photo');
  await phone.finds('.ghost img');
  await heels(phone, '2', '29.5');

  await itsLife(phone);
  await phone.sees('No longer on: 1');
  await phone.run(() => document.querySelectorAll('[aria-label="Parts fitted"] details').forEach((one) => one.setAttribute('open', '')));
  await phone.sees('Top piece lasted 1 year 2 months, until');
  await phone.sees('Terms: Six months on the work.');
  await phone.finds('svg.wear-line');
  await phone.sees('2.5 mm less in 1 year 2 months');
  const read = await phone.run(() => document.querySelector('svg.wear-line')?.getAttribute('aria-label'));
  expect(read).toMatch(/^Heel height, left, at the back: 32 mm on .*, 29\.5 mm on .*\.$/);

  await phone.press('Was this ours?');
  await tapPart(phone, 'Top piece, fitted by us');
  await phone.sees('Ours.');
  await phone.press('Another part');
  await tapPart(phone, 'Stiffener');
  await phone.sees('Not ours: nothing is written down that we did to it.');
  await phone.press('Another part');
  // The same parts in the list of names.
  await phone.press('Every part by name');
  await phone.press('Top piece');
  await phone.sees('Ours.');

  await phone.press(/Compare two photographs$/, 'link');
  await phone.until('both are there in full', () => {
    const images = [...document.querySelectorAll<HTMLImageElement>('.laid img')];
    return images.length === 2 && images.every((image) => image.naturalWidth > 256);
  });
  const years = await phone.run(() => [...document.querySelectorAll('.laid figcaption')].map((one) => /\d{4}$/.exec(one.textContent ?? '')?.[0]));
  expect(years[0], 'then and now').not.toBe(years[1]);
  expect(await phone.run(divided)).toBe('50%');
  await phone.run(() => document.querySelector<HTMLElement>('.laid input')?.focus());
  await phone.key('ArrowRight');
  expect(await phone.run(divided)).toBe('51%');
  await phone.key('End');
  expect(await phone.run(divided)).toBe('100%');
  await phone.press('Side by side');
  await phone.until('no divider', () => document.querySelector('.laid input') === null);
  // Another pair of photographs: the second one of then, and beside it the same view of now.
  await phone.run(() => document.querySelectorAll<HTMLElement>('[aria-label=First] button')[1]?.click());
  await phone.until('it is picked', () => document.querySelectorAll('[aria-label=First] [aria-pressed=true]').length === 1
    && document.querySelectorAll('[aria-label=First] button')[1]?.getAttribute('aria-pressed') === 'true');
  await phone.reload();
  await phone.until('it is all on the device', () => document.querySelectorAll('.laid img').length === 2);
});
