/**
 * The bench plan: a run done for six pairs with one tap, a wait that ends, a pair that comes in between, an open
 * question that holds a pair, "do this first"; a plan that stands until something happens, on every phone of the shop; and
 * at the counter the days with their load.
 */
import { eventually, expect, test, type Phone } from '../helpers/test.ts';
import { joined, leaveCamera, synced, takeIn, unfoldRun } from '../helpers/work.ts';
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

/** In the page: the day on which each pair is done, by its tag number, without the time. */
function daysShown(): string {
  const rows = [...document.querySelectorAll('.bench-row')].map((row) => {
    const done = row.querySelector('.planned')?.textContent?.split(', done ')[1] ?? 'not planned';
    return `${row.querySelector('.tag')?.textContent}: ${done.replace(/(about )?\d\d:\d\d/, '')}`;
  });
  return rows.sort().join('; ');
}

/** In the page: what has put the run in the place of another one. */
function runChanged(): string {
  return document.querySelector('.run .changed')?.textContent ?? '';
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
  await unfoldRun(phone);
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
  await phone.until('the new pair has its place', () => /next (about )?\d\d:\d\d, done about \d\d:\d\d/.test(
    [...document.querySelectorAll('.bench-row')].find((row) => row.querySelector('.tag')?.textContent === '7')?.querySelector('.planned')?.textContent ?? '',
  ));
  await phone.press('Pick 7');
  await phone.press('More');
  await phone.press('Do first');
  await runIs(phone, 'the pair for today comes first', (run) => run === 'Now: Cement 1: 7');
  await phone.sees('You put 7 first.');
  await phone.press('Cement is on; drying 10 min');
  await runIs(phone, 'it is waited for', (run) => run === 'Next: Cement 1: 7');
  await phone.press('Pick 7');
  await phone.press('More');
  await phone.press('No longer first');
  await runIs(phone, 'the others go on while it dries', (run) => run.startsWith('Now: Trim'));
  expect(await phone.run(standing, '7')).toContain('Drying: next');
  await time.later(10);
  await phone.press('Pick 7');
  await phone.press('More');
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
  expect(await phone.run(standing, '7')).toContain('Waiting for the customer: Must restart by');

  // "Do first" is followed, and so is "Not these now".
  await phone.press('Pick 5');
  await phone.press('More');
  await phone.press('Do first');
  await phone.sees('You put 5 first.');
  await runIs(phone, 'the fifth comes first', (run) => /^Now: Trim \d: 5\b/.test(run));
  // A new plan moves rows and does not draw them again, so that a tap on one still hits it.
  await phone.run(() => document.querySelectorAll('.bench-row').forEach((row) => Object.assign(row, { known: true })));
  await phone.press('Not these now');
  await runIs(phone, 'it is left out for now', (run) => !/^Now: .*: .*5/.test(run));
  expect(await phone.run(() => [...document.querySelectorAll('.bench-row')].every((row) => 'known' in row)), 'no row was drawn anew').toBe(true);
  await phone.press('Interrupted: plan from now');
  await runIs(phone, 'it is back', (run) => /^Now: Trim \d: 5\b/.test(run));
});

/** In the page: from when until when the run is done. */
function runTimes(): string {
  return document.querySelector('.run p strong')?.textContent ?? '';
}

test('the plan stands while nothing happens, says why if it changes, and when the shop opens next', async ({ site, newPhone }) => {
  const phone = await newPhone();
  const time = new Monday(phone);
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  await time.begin();
  await time.later(-60);
  const friday = await time.day(4);
  for (const pair of [1, 2, 3]) {
    await takeIn(phone, { work: 'Small repair', price: '8', look: `boot ${pair}`, day: friday });
  }
  for (const pair of [4, 5]) {
    await takeIn(phone, { work: 'Half soles', price: '65', look: `derby ${pair}`, day: friday });
  }
  await onBench(phone);
  await runIs(phone, 'it begins when the shop opens', (run) => run.startsWith('Next: '));
  await unfoldRun(phone);
  await phone.sees('From about 09:00 to');

  // The Bench stays open and nobody touches it: the clock alone moves the times, and changes nothing else.
  await time.later(65);
  await runIs(phone, 'it can begin', (run) => run.startsWith('Now: '));
  const [stands, days] = [await phone.run(run), await phone.run(daysShown)];
  expect(await phone.run(runChanged)).toBe('');
  const times = await phone.run(runTimes);
  await time.later(5);
  await eventually('its times move on', async () => (await phone.run(runTimes)) !== times, () => `; they stay “${times}”`);
  expect(await phone.run(run), 'the same run').toBe(stands);
  expect(await phone.run(daysShown), 'the same days').toBe(days);

  // A pair that is wanted soon may change the run, which then says why.
  await takeIn(phone, { work: 'Heels (top pieces)', price: '25', look: 'court shoes', day: await time.day(0), rush: true });
  await onBench(phone);
  await phone.until('the new pair has its place', () => /^next /.test(
    [...document.querySelectorAll('.bench-row')].find((row) => row.querySelector('.tag')?.textContent === '6')?.querySelector('.planned')?.textContent ?? '',
  ));
  await eventually('a run that has changed says why, another one says nothing', async () => {
    const [now, why] = [await phone.run(run), await phone.run(runChanged)];
    return now === stands ? why === '' : /^Changed at \d\d:\d\d: 6 has come in and is wanted soon\.$/.test(why);
  });

  // At night, on Saturday evening and on Sunday it is the run of the next opening.
  await time.later(11 * 60);
  await runIs(phone, 'it is night', (run) => run.startsWith('Next: '));
  await phone.sees('From tomorrow, about 09:00 to');
  await time.later(5 * 24 * 60);
  await phone.sees('From Monday, about 09:00 to');
  await time.later(16 * 60);
  await phone.sees('From tomorrow, about 09:00 to');
  await runIs(phone, 'it is Sunday', (run) => run.startsWith('Next: '));
});

/** Lets the shop be open at any hour, because the two phones of a story go by the true time, as the server does. */
async function openAlways(phone: Phone): Promise<void> {
  await phone.press('Shop', 'link');
  for (const day of ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']) {
    await phone.fill(day, '0-24');
  }
  await phone.press('Save hours');
  await phone.sees('Saved.');
}

/** Brings what one phone has noted to the other; both show the Bench then. */
async function passOn(from: Phone, to: Phone): Promise<void> {
  await synced(from);
  await synced(to);
  await onBench(from);
  await onBench(to);
}

test('every phone of the shop shows the same run, and what is decided about it', async ({ waxend, newPhone }) => {
  const server = await waxend();
  const phone = await newPhone();
  await joined(phone, server);
  await openAlways(phone);
  for (const pair of [1, 2, 3, 4]) {
    await takeIn(phone, { work: 'Small repair', price: '8', look: `boot ${pair}` });
  }
  const second = await newPhone();
  await joined(second, server);
  await passOn(phone, second);
  await runIs(phone, 'all four are to be trimmed', (run) => run.startsWith('Now: Trim 4: '));
  const four = await phone.run(run);
  const tags = four.slice(four.indexOf(' 4: '));
  await runIs(second, 'the second phone shows the same run', (run) => run === four);
  await second.seesNo('is still arriving on this device');
  await unfoldRun(phone);
  await unfoldRun(second);

  await phone.press('Begin this run');
  await runIs(phone, 'it is under way', (run) => run === `Under way: Trim${tags}`);
  await phone.until('it is not begun twice', () => ![...document.querySelectorAll('button')].some((one) => one.textContent === 'Begin this run'));
  await passOn(phone, second);
  await runIs(second, 'it is under way on the second phone too', (run) => run === `Under way: Trim${tags}`);

  await second.press('Not these now');
  await second.sees('Put off for three hours');
  await runIs(second, 'it is put aside', (run) => run.startsWith('Next: Trim 4: '));
  await passOn(second, phone);
  await runIs(phone, 'it is put aside on the first phone too', (run) => run.startsWith('Next: Trim 4: '));

  await phone.press('Interrupted: plan from now');
  await runIs(phone, 'it is taken up again', (run) => /^(Now|Under way): Trim 4: /.test(run));
  await passOn(phone, second);
  const again = await phone.run(run);
  await runIs(second, 'it is taken up again on the second phone too', (run) => run === again);

  // Undone where it was done, a decision is undone on every phone.
  await phone.press('Not these now');
  await runIs(phone, 'it is put aside once more', (run) => run.startsWith('Next: Trim 4: '));
  await phone.press('Undo');
  await runIs(phone, 'it was taken back', (run) => /^(Now|Under way): Trim 4: /.test(run));
  await passOn(phone, second);
  const undone = await phone.run(run);
  await runIs(second, 'it was taken back on the second phone too', (run) => run === undone);
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
  await leaveCamera(phone);
  await phone.press('Drop-off', 'link');
  await phone.finds('.days .day');
  const days = (): Promise<string[]> => phone.run(() => [...document.querySelectorAll('.days .day')].map((day) => day.getAttribute('aria-label') ?? ''));
  expect((await days()).slice(0, 2).map((day) => day.split(' ')[0])).toEqual(['Mon', 'Thu']);
  await phone.press('Half soles');
  await phone.sees('Suggested: Thursday');
  expect((await days())[0]).toContain('full');
  // Any day can still be promised, and the app says how likely it is to be kept.
  await phone.press(/^Mon .*full/);
  await phone.until('that the day is not kept, or only if others wait', () =>
    /It cannot be done by the end of this day\.|only if other(s| pairs) wait/.test(document.querySelector('.day-chooser > .bad')?.textContent ?? ''));
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
  await phone.until('nothing is said against it', () => document.querySelector('.day-chooser > .bad')?.textContent === '');
  await phone.until('the field says so too', (from) => document.querySelector<HTMLInputElement>('input[type=time]')?.value === from, from);
  await phone.press('Take in and print');
  await phone.sees('Left with us');
  await phone.sees(`, from ${from}`);
  await onBench(phone);
  await phone.sees(`, from ${from}`);
  await phone.press('Drop-off', 'link');
  await phone.press('Tomorrow');
  await phone.until('a day picked otherwise is promised whole', () => document.querySelector<HTMLInputElement>('input[type=time]')?.value === '');
  // The shop is closed on Tuesdays: that is said at once, with the next day on which somebody works, and asked once more.
  await phone.sees('Nobody works on this day.');
  await phone.press('Take in and photograph');
  await phone.sees('Tap again to take it in all the same.');
  expect(await phone.count('.camera'), 'nothing is taken in yet').toBe(0);
  await phone.press(/^Promise Thursday .* instead$/);
  await phone.seesNo('Nobody works on this day.');
  await phone.until('a time after closing is set', () => {
    const field = document.querySelector<HTMLInputElement>('input[type=time]');
    if (!field) return false;
    field.value = '19:30';
    field.dispatchEvent(new Event('input', { bubbles: true }));
    return true;
  });
  await phone.sees('Nobody works at 19:30: the hours of this day are 09:00-13:00, 14:00-18:00.');
});
