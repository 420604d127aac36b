/**
 * The bench plan: a run done for six pairs with one tap, a wait that ends, a pair that comes in between, an open
 * question that holds a pair, "do this first"; and at the counter the days with their load.
 */
import { eventually, expect, test, type Phone } from '../helpers/test.ts';
import { takeIn } from '../helpers/work.ts';
import { Monday } from '../helpers/years.ts';

/** In the page: the text of the run: its heading, the number of pairs, and their tag numbers in order. */
function run(): string {
  const card = document.querySelector('.run');
  const tags = [...(card?.querySelectorAll('.run-pairs .tag') ?? [])].map((tag) => tag.textContent);
  return `${card?.querySelector('h2')?.textContent ?? ''}: ${tags.join(' ')}`;
}

async function runIs(phone: Phone, what: string, says: (run: string) => boolean): Promise<void> {
  let last = '';
  await eventually(what, async () => says((last = await phone.run(run))), () => `; the run says “${last}”`);
}

/** In the page: the station at which a pair is listed, and the text about its turn. */
function standing(tag: string): string {
  const row = [...document.querySelectorAll('.bench-row')].find((row) => row.querySelector('.tag')?.textContent === tag);
  const place = row?.closest('.station')?.querySelector('h2')?.childNodes[0]?.textContent?.trim();
  return `${place}: ${row?.querySelector('.planned')?.textContent}`;
}

async function onBench(phone: Phone): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.finds('[data-ready=bench] .bench-row');
}

test('six in one tap, dry in time, one in between, one held, one first', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const time = new Monday(phone);
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await time.begin();
  const friday = await time.day(4);
  for (const pair of [1, 2, 3, 4, 5, 6]) {
    await takeIn(phone, { work: 'Small repair', price: '8', look: `boot ${pair}`, day: friday });
  }
  await onBench(phone);
  await runIs(phone, 'all six are to be trimmed', (run) => run.startsWith('Now: Trim 6: '));
  await phone.sees('is promised for');
  await phone.press('This run is done');
  await phone.sees('This run is done.');
  await runIs(phone, 'all six are to be checked', (run) => run.startsWith('Now: Final check 6: '));
  await phone.press('Undo');
  await runIs(phone, 'it was taken back', (run) => run.startsWith('Now: Trim 6: '));

  // A pair promised for today comes in and gets its place in the plan. When put first, it is first; while its cement
  // dries, the others go on.
  await takeIn(phone, { work: 'Half soles', price: '65', look: 'derby', day: await time.day(0) });
  await onBench(phone);
  await phone.until('the new pair has its place', () => /next \d\d:\d\d, done \d\d:\d\d/.test(
    [...document.querySelectorAll('.bench-row')].find((row) => row.querySelector('.tag')?.textContent === '7')?.querySelector('.planned')?.textContent ?? '',
  ));
  await phone.press('Pick 7');
  await phone.press('Do first');
  await runIs(phone, 'the pair for today comes first', (run) => run === 'Now: Cement 1: 7');
  await phone.sees('You put 7 first.');
  await phone.press('Cement is on; drying 10 min');
  await runIs(phone, 'it is waited for', (run) => run === 'Next: Cement 1: 7');
  await phone.press('Pick 7');
  await phone.press('No longer first');
  await runIs(phone, 'the others go on while it dries', (run) => run.startsWith('Now: Trim'));
  expect(await phone.run(standing, '7')).toContain('Drying: next');
  await time.later(10);
  await phone.press('Pick 7');
  await phone.press('Do first');
  await runIs(phone, 'it is dry, and its cement open', (run) => run === 'Now: Cement 1: 7');
  await phone.sees('The cement on 7 stays open until about');

  // An open question holds the pair: it is not in the plan, and the text says by when it must go on.
  await phone.press(/^7\b/, 'link');
  await phone.press('Opening up', 'link');
  await phone.press('Shank');
  await phone.press('Right');
  await phone.press('Broken');
  await phone.press('Replace');
  await phone.press('Customer');
  await phone.sees('Ask about 7');
  await phone.press('I have asked');
  await phone.sees('The pair is held until there is an answer.');
  await onBench(phone);
  await runIs(phone, 'the pair that is asked about is not in the run', (run) => run.startsWith('Now: Trim') && !run.endsWith(' 7'));
  expect(await phone.run(standing, '7')).toContain('Waiting for the customer: Its day is kept only if it goes on by');

  // "Do first" is followed, and so is "Not these now".
  await phone.press('Pick 5');
  await phone.press('Do first');
  await phone.sees('You put 5 first.');
  await runIs(phone, 'the fifth comes first', (run) => /^Now: Trim \d: 5\b/.test(run));
  // A new plan moves rows and does not draw them again, so that a tap on one still hits it.
  await phone.run(() => document.querySelectorAll('.bench-row').forEach((row) => Object.assign(row, { known: true })));
  await phone.press('Not these now');
  await runIs(phone, 'it is left out for now', (run) => run.startsWith('Now: Trim') && !/: .*5/.test(run));
  expect(await phone.run(() => [...document.querySelectorAll('.bench-row')].every((row) => 'known' in row)), 'no row was drawn anew').toBe(true);
  await phone.press('Interrupted: plan from now');
  await runIs(phone, 'it is back', (run) => /^Now: Trim \d: 5\b/.test(run));
});

test('the counter knows which days are full, and any day can be promised', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const time = new Monday(phone);
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await phone.press('Shop', 'link');
  await phone.fill('Tuesday', '9-');
  // Typed text stays when another form is saved, or when the shop's entries are read late.
  await phone.fill('Currency, three letters', 'EUR');
  await phone.press('Save money');
  await phone.sees('Saved.');
  await phone.press('Save hours');
  await phone.sees('are no hours. For example 9-13, 14-18');
  // A short day, a day on which the shop is always closed, and a date on which it is closed.
  await time.begin();
  const wednesday = await time.day(2);
  await phone.fill('Monday', '9-12');
  await phone.fill('Tuesday', ' ');
  await phone.fill('Closed on, days with commas', wednesday);
  await phone.press('Save hours');
  await phone.sees('Saved.');

  for (const pair of [1, 2, 3, 4, 5]) {
    await takeIn(phone, { work: 'Half soles', price: '65', look: `boot ${pair}`, day: await time.day(0) });
  }
  await phone.press('Drop-off', 'link');
  await phone.finds('.days .day');
  const days = (): Promise<string[]> => phone.run(() => [...document.querySelectorAll('.days .day')].map((day) => day.getAttribute('aria-label') ?? ''));
  expect((await days()).slice(0, 2).map((day) => day.split(' ')[0])).toEqual(['Mon', 'Thu']);
  await phone.press('Half soles');
  await phone.sees('Suggested: Thursday');
  expect((await days())[0]).toContain('full');
  // Any day can still be promised, and the app says how likely it is to be kept.
  await phone.press(/^Mon .*full/);
  await phone.sees('It cannot be done by the end of this day.');
  await phone.press('Take in and photograph');
  await phone.finds('.camera');
  await onBench(phone);
  await phone.sees('At risk');

  // The suggested day has the half hour from which the pair is ready. Both are shown wherever the pair is.
  await phone.press('Drop-off', 'link');
  await phone.press('Half soles');
  const suggested = await phone.until('a day and a half hour', () =>
    /^Suggested: (Thursday .*), from (\d\d:[03]0)$/.exec([...document.querySelectorAll('.suggested button')].map((one) => one.textContent).join('')));
  const [words, , from] = suggested as unknown as [string, string, string];
  await phone.press(words);
  await phone.seesNo('It cannot be done by the end of this day.');
  await phone.until('the field says so too', (from) => document.querySelector<HTMLInputElement>('input[type=time]')?.value === from, from);
  await phone.press('Take in and print');
  await phone.sees('Left with us');
  await phone.sees(`, from ${from}`);
  await onBench(phone);
  await phone.sees(`, from ${from}`);
  await phone.press('Drop-off', 'link');
  await phone.press('Tomorrow');
  await phone.until('a day picked otherwise is promised whole', () => document.querySelector<HTMLInputElement>('input[type=time]')?.value === '');
});
