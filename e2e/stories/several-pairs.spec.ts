/**
 * Several pairs, each with something of its own: what was found inside and put right, what was reckoned, what is put
 * over a seam, what does not quite match. Each is found in Records, and its card says it in plain words.
 */
import { publishedCard } from '../helpers/card.ts';
import { counting } from '../helpers/counting.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { noteDown, stillToDo, type TicketPair, type TicketWork } from '../helpers/tickets.ts';
import { helper, joined, openLife, synced, unfoldRarer } from '../helpers/work.ts';

const HEELS = 'Heels (top pieces)';
const POLISH = 'Condition and polish';
/** The guard is agreed first; the seam, which lies under it, is sewn first. */
const GUARDED: TicketWork[] = [{ chip: 'Sole guards' }, { chip: 'Restitch the sole', find: 'stitch sole' }];

/** A finding on opening up. */
interface Finding {
  part: string;
  wrong: string;
  way: 'Mend' | 'Replace';
}

/** Takes these pairs of one customer in, by the names of what is tapped. */
async function takeAllIn(phone: Phone, name: string, pairs: TicketPair[]): Promise<void> {
  await phone.press('Drop-off', 'link');
  await phone.fill("Customer's name", name);
  for (const [at, pair] of pairs.entries()) {
    if (at > 0) await phone.press('+ another pair');
    await noteDown(counting(phone), pair);
  }
  await phone.press('In 7 days');
  await phone.press('Take in and print');
  await phone.sees('Left with us');
}

/** Opens the work on a pair from the Bench. */
async function toWork(phone: Phone, tag: string): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(new RegExp(`^${tag}\\b`), 'link');
  await phone.finds('[data-ready=work]');
}

/** Notes what is wrong with a part of a pair, and that it is put right at no charge because it was needed. */
async function putRight(phone: Phone, tag: string, { part, wrong, way }: Finding): Promise<void> {
  await toWork(phone, tag);
  await phone.press('Opening up', 'link');
  await phone.press(part);
  await phone.press(wrong);
  await phone.press(way);
  await phone.press('No charge: needed');
  const done = way === 'Mend' ? 'mended' : 'replaced';
  await phone.sees(`${part} ${wrong}: ${done}, no charge, needed`);
}

/** Notes the next operation as done. */
async function isDone(phone: Phone, operation: string): Promise<void> {
  await phone.press(`${operation}: done`);
  await phone.sees(`${operation} noted.`);
}

/** Finds one pair in Records by these words. */
async function found(phone: Phone, words: string, tag: string): Promise<void> {
  await phone.press('Records', 'link');
  await phone.fill('Number, name, last digits, maker, colour, note', words);
  await phone.until(`“${words}” finds ${tag} alone`, (tag) => {
    const rows = document.querySelectorAll('[aria-label=Found] > li');
    return rows.length === 1 && rows[0]?.querySelector('.tag')?.textContent === tag;
  }, tag);
}

/** Waits until the card of a pair, as the customer will see it, says all of this. */
async function cardSays(phone: Phone, tag: string, said: string[]): Promise<void> {
  await toWork(phone, tag);
  await phone.press('Collection', 'link');
  for (const text of said) {
    await phone.until(`the card of ${tag} says “${text}”`, (text) =>
      document.querySelector('.preview .care-card')?.textContent?.replace(/\s+/g, ' ').includes(text), text);
  }
}

test('what was found inside is put right at no charge, and each card says so', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeAllIn(phone, 'Ottoline Brack', [
    { kind: 'Shoe', look: 'loafer', colour: 'chestnut', work: [{ chip: HEELS }] },
    { kind: 'Boot', look: 'chukka', colour: 'oxblood', work: [{ chip: POLISH }] },
    { kind: 'Shoe', look: 'derby', colour: 'black', work: [{ chip: POLISH }] },
  ]);

  await putRight(phone, 'A1', { part: 'Heel base or block', wrong: 'Board under a leather wrap', way: 'Replace' });
  await toWork(phone, 'A1');
  await stillToDo(phone, ['Heel block rebuild', HEELS]);
  await isDone(phone, 'Heel block rebuild');
  await isDone(phone, HEELS);

  await putRight(phone, 'A2', { part: 'Stiffener', wrong: 'Crushed', way: 'Replace' });
  await toWork(phone, 'A2');
  await stillToDo(phone, ['Stiffener rebuild', POLISH]);
  await isDone(phone, 'Stiffener rebuild');

  await putRight(phone, 'A3', { part: 'Welt', wrong: 'Stitch holds nothing', way: 'Mend' });
  await phone.choose('As opened', 'Cemented');
  await phone.sees('As opened: Cemented.');
  await phone.choose('As it leaves', 'Blake');
  await phone.sees('As it leaves: Blake.');
  await toWork(phone, 'A3');
  await stillToDo(phone, ['Restitch the sole', POLISH]);
  await isDone(phone, 'Restitch the sole');
  await found(phone, 'black derby', 'A3');
  await openLife(phone, 'A3');
  await phone.sees('As opened: Cemented');
  await phone.sees('As it left: Blake');
  // Brought again, it begins as the last job left it.
  await phone.press('Drop-off', 'link');
  await phone.fill('Been here before? Name, last digits, number or look', 'black derby');
  await phone.press(/^black derby/);
  await phone.sees('Construction Blake');

  await found(phone, 'chestnut', 'A1');
  await found(phone, 'chukka', 'A2');
  await cardSays(phone, 'A2', [
    'Stiffener round the heel: crushed. Replaced at no charge.',
    'The stiffeners round both heels made firm again. It was needed.',
  ]);
  await cardSays(phone, 'A3', [
    'Strip that joins upper and sole: stitch holds nothing. Mended at no charge.',
    'The soles stitched on again. It was needed.',
    'The sole is now stitched. One seam inside the shoe joins insole, upper and outsole.',
  ]);
  const board = [
    'Heel: board under a leather wrap. Replaced at no charge.',
    'Both heels built up again, layer by layer. It was needed.',
  ];
  await cardSays(phone, 'A1', board);
  await phone.press('Publish the card');
  await phone.sees('The card is published.');
  await synced(phone);
  const reader = await newPhone({ script: 'off' });
  await reader.open(await publishedCard(phone));
  for (const text of board) await reader.sees(text);
});

test('a corner line and the nails stay with the heel, and a guard waits for the seam', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeAllIn(phone, 'Ines Vell', [
    { kind: 'Shoe', look: 'brogue', colour: 'tan', work: [{ chip: HEELS, variant: 'Leather with a rubber corner' }] },
    { kind: 'Shoe', look: 'monk shoe', colour: 'navy', work: GUARDED },
  ]);

  await toWork(phone, 'A1');
  await stillToDo(phone, [`${HEELS}, leather with a rubber corner`]);
  await helper(phone, 'Rubber line');
  await phone.fill('Worn at the outer back corner, mm', '5');
  await phone.finds('svg .cut');
  await phone.press('Save on the pair');
  await phone.sees('Saved on the pair.');
  await phone.press('Work', 'link');
  await helper(phone, 'Nails');
  await phone.press('Inside the shoe');
  // Insole 3, sole 5 and block 20, less 3 that are kept clear (common practice): shorter than 25, so 22 from stock.
  await phone.fill('Heel block, mm', '20');
  await phone.sees('Use 22 mm nails.');
  await phone.press('Save on the pair');
  await phone.sees('Saved on the pair.');
  await phone.press('Work', 'link');
  await isDone(phone, `${HEELS}, leather with a rubber corner`);

  await toWork(phone, 'A2');
  await stillToDo(phone, ['Restitch the sole', 'Sole guards']);
  await isDone(phone, 'Restitch the sole');
  await stillToDo(phone, ['Sole guards']);
  await isDone(phone, 'Sole guards');

  await found(phone, 'tan brogue', 'A1');
  await openLife(phone, 'A1');
  await phone.sees('Rubber line: Cut along the line,');
  await phone.sees('Nails: Use 22 mm nails.');
  await found(phone, 'navy', 'A2');
  await cardSays(phone, 'A1', ['New wearing layer under both heels (leather with a rubber corner).']);
  await cardSays(phone, 'A2', ['The soles stitched on again.', 'Thin rubber put over the soles to protect them.']);
});

test('laces of another shade and a shank that is used again are told on the cards', async ({ waxend, newPhone }) => {
  const phone = await newPhone();
  await joined(phone, await waxend());
  await takeAllIn(phone, 'Ottoline Brack', [
    { kind: 'Boot', look: 'lace boot', colour: 'plum', work: [{ chip: POLISH }] },
    { kind: 'Shoe', look: 'oxford', colour: 'green', work: [{ chip: 'Long soles, machine-welted' }] },
  ]);

  await toWork(phone, 'A1');
  await unfoldRarer(phone);
  await phone.run(() => document.querySelector<HTMLElement>('[aria-label="Not quite a match"] summary')?.click());
  await phone.press('Save');
  await phone.sees('Saved: the card says so.');

  await toWork(phone, 'A2');
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Right');
  await phone.press('Loose');
  await phone.press(/^Keep/);
  await phone.sees('Must go back in');
  await cardSays(phone, 'A2', ['Stiff strip under the arch, right: loose. Good enough to stay.']);
  await phone.sees('Not back in: Shank (right).');
  await toWork(phone, 'A2');
  await phone.press('Shank, right is back');
  await phone.seesNo('Must go back in');
  await openLife(phone, 'A2');
  await phone.sees('Taken off and put back');

  await found(phone, 'plum', 'A1');
  await found(phone, 'green oxford', 'A2');
  await cardSays(phone, 'A1', ['The laces are not quite the colour of the old ones.']);
  await cardSays(phone, 'A2', [
    'Good enough to stay.',
    'The old stiff strip under the arch of the right shoe was taken out and put back.',
  ]);
  expect(await phone.has('Put them back', 'link'), 'nothing has to go back in').toBe(false);
});
