/**
 * Printing: the card is one sheet, however much there is to say, from its page and from the app. Stub and tags are one
 * sheet too.
 */
import { breaches, chromiumTest as test, expect } from '../helpers/test.ts';
import { publishedCard } from '../helpers/card.ts';
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { printed } from '../helpers/paper.ts';
import { checked, joined, noteStep, shoot, synced, takeIn } from '../helpers/work.ts';

/** The size of A4 in millimetres (ISO 216). */
const A4 = { width: 210, height: 297 };
const A5 = { width: 148, height: 210 };
const A6 = { width: 105, height: 148 };

const TERMS = 'One year on our work: what comes loose is made good at no charge. Not for wear, nor for soles walked through.';

/** The hidden damage that was found. */
const FOUND = [
  ['Stiffener', 'Crushed'],
  ['Toe puff', 'Crushed'],
  ['Welt', 'Cracked'],
  ['Insole', 'Cracked'],
  ['Heel seat', 'Wet or soft'],
] as const;

test('a card with much to say is one sheet of A5', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await phone.press('Shop', 'link');
  await phone.fill("Shop's name", 'Tern Street Repairs');
  await phone.fill('Guarantee terms', TERMS);
  await phone.press('Save');
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'walking boot', colour: 'chestnut', name: 'Ottoline Brack' });
  await shoot(phone, 3);
  await phone.press('Done, to the Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Opening up', 'link');
  for (const [part, condition] of FOUND) {
    await phone.press(part);
    await phone.press(condition);
    await phone.press('Mend');
    await phone.press('No charge: needed');
    await phone.sees(`${part} ${condition}: mended, no charge, needed`);
  }
  await phone.press('Bench', 'link');
  await phone.press('Photograph A1', 'link');
  await shoot(phone, 4);
  await phone.choose('Operation', 'Half soles');
  await noteStep(phone, 'Half soles');
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await phone.press('The price', 'checkbox');
  await phone.press('6 months');
  await phone.press('Publish the card');
  await phone.sees('The card is published.');

  const here = await printed(phone);
  expect(here, 'from the app').toMatchObject({ pages: 1, ...A5 });
  // What was found and the extras stand side by side, so that the paper's lines alternate.
  for (const said of ['Stiffener round the heel: crushed.', 'Mended at no charge.']) expect(here.text).toContain(said);
  expect(here.text, 'the card and nothing else').not.toContain('Final check');

  await synced(phone);
  await phone.open(await publishedCard(phone));
  await phone.sees('Care card');
  const page = await printed(phone);
  expect(page, 'from the server').toMatchObject({ pages: 1, ...A5 });
  const advice = await phone.run(() => document.querySelector('.advice li')?.textContent?.replace(/\s+/g, ' ').trim() ?? '');
  expect(advice, 'what to do, and why').toMatch(/\. \S/);
  expect(page.text, 'the reason is folded on the screen only').toContain(advice);
  expect(page.text).toContain('what comes loose is made good at no charge');
  expect(page.text).toContain('Tern Street Repairs');
  await phone.page.emulateMedia({ media: 'print' });
  expect(await breaches(phone), 'in print').toEqual([]);
});

test('a short card is one sheet of A6 as well', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await takeIn(phone, { work: 'Heels (top pieces)', price: '18.50', look: 'court shoe', colour: 'black', name: 'Ines Vell' });
  await shoot(phone, 2);
  await phone.press('Bench', 'link');
  await phone.press(/^A1/, 'link');
  await phone.press('Collection', 'link');
  await checked(phone);
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await synced(phone);
  await phone.open(await publishedCard(phone));
  await phone.sees('Care card');
  expect(await printed(phone)).toMatchObject({ pages: 1, ...A5 });
  expect(await printed(phone, A6)).toMatchObject({ pages: 1, ...A6 });
});

test('a pair on its fourth job is one sheet of A5 as well, after and before first, in type that can be read', async ({ waxend, newPhone }) => {
  const server = await waxend({ demo: true });
  const phone = await newPhone();
  await phone.open(server.demoCard);
  await phone.sees('Earlier work on this pair');
  const leading = await phone.run(() =>
    [...document.querySelectorAll('.lead figcaption')].map((caption) => caption.textContent?.split(':')[0] ?? ''),
  );
  expect(leading).toEqual(['After', 'Before']);
  expect(await phone.count('.worked [data-age=new]'), 'what is new is tinted').toBeGreaterThan(0);

  const page = await printed(phone);
  expect(page).toMatchObject({ pages: 1, ...A5 });
  expect(page.text).toContain('Wear is not covered.');
  expect(page.text, 'earlier work is on the page only').not.toContain('Earlier work on this pair');
  await phone.page.emulateMedia({ media: 'print' });
  // 9 points; the browser rounds.
  expect(await smallestType(phone)).toBeGreaterThan(8.99);
  expect(await breaches(phone), 'in print').toEqual([]);
});

test('the stub and the tags of four pairs are one sheet of A4', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.press('Drop-off', 'link');
  await phone.fill("Customer's name", 'Ottoline Brack');
  for (const [kind, work] of [['Walking boot', 'Half soles'], ['Court shoe', 'Heels (top pieces)'], ['Shoe', 'Half soles'], ['Belt', 'New hole']] as const) {
    await phone.press(kind);
    await phone.press(work);
    if (kind !== 'Belt') await phone.press('+ another pair');
  }
  await phone.press('In 3 days');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
  await phone.press('Bench', 'link');
  await phone.press(/^1 /, 'link');
  await phone.press('Collection', 'link');
  await phone.press('Its ticket: 4 pairs', 'link');
  await phone.press('Stub and tags', 'link');
  await phone.finds('.stub .qr');
  const sheet = await printed(phone, A4);
  expect(sheet).toMatchObject({ pages: 1, ...A4 });
  for (const kind of ['Walking boot', 'Court shoe', 'Shoe', 'Belt']) expect(sheet.text).toContain(kind);
  expect(sheet.text, 'the stub and the tags, and nothing else').not.toContain('Drop-off');
});

test('a sketch is true to scale on paper, beside a bar to check', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const { url } = await site();
  await phone.open(url);
  await takeIn(phone, { work: 'Heels (top pieces)', price: '22' });
  const job = /camera\/([-0-9a-f]+)/.exec(await phone.address())?.[1] ?? '';
  await phone.open(`${url}/reckon/${job}/nails`);
  await phone.finds('svg.bar');
  await phone.page.emulateMedia({ media: 'print' });
  const widths = await phone.run(() => [...document.querySelectorAll('svg.to-scale')].map((one) => one.getBoundingClientRect().width));
  // A CSS inch is 96 px and 25.4 mm (CSS Values 4, 6.2). The heels have 60 mm with 4 mm of margin on each side, and the
  // bar has 100 mm.
  const inPixels = (mm: number): number => (mm * 96) / 25.4;
  for (const [at, mm] of [68, 68, 100].entries()) expect(widths[at]).toBeCloseTo(inPixels(mm), 0);
  const sheet = await printed(phone, A4);
  expect(sheet.pages).toBe(1);
  expect(sheet.text).toContain('Left, from below');
  expect(sheet.text, 'the drawings alone').not.toContain('Save on the pair');
});

/** The smallest font size that is shown, in points. */
async function smallestType(phone: ChromiumPhone): Promise<number> {
  return phone.run(() => {
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    let least = Infinity;
    for (let text = texts.nextNode(); text !== null; text = texts.nextNode()) {
      const parent = text.parentElement;
      if (parent === null || text.textContent?.trim() === '' || parent.getClientRects().length === 0) continue;
      least = Math.min(least, parseFloat(getComputedStyle(parent).fontSize) * 0.75);
    }
    return least;
  });
}
