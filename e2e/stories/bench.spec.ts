/** The Bench: pairs by station, work on several at once, waits that end by themselves; and the work on one job. */
import { expect, test, type Phone } from '../helpers/test.ts';
import { standing } from '../helpers/standing.ts';
import type { Waxend } from '../helpers/waxend.ts';
import { joined, noteStep, openLife } from '../helpers/work.ts';
import { Monday } from '../helpers/years.ts';

/** In the page: whether the stations and the tags at each are exactly these, in this order. */
function stationsAre(expected: string): boolean {
  const sections = [...document.querySelectorAll('.station')].map((section) => [
    section.querySelector('h2')?.childNodes[0]?.textContent?.trim() ?? '',
    [...section.querySelectorAll('.bench-row .tag')].map((tag) => tag.textContent ?? ''),
  ]);
  return JSON.stringify(Object.fromEntries(sections)) === expected;
}

async function standsAt(phone: Phone, expected: Record<string, string[]>): Promise<void> {
  const said = JSON.stringify(expected);
  await phone.until(said, stationsAre, said);
}

/** In the page: the visible controls that are narrower or lower than `least` pixels, by name and size. */
function smallerThan(least: number, within: string): string[] {
  const controls = [...document.querySelectorAll<HTMLElement>(`${within} :is(a, button, select, summary, label.file)`)];
  return controls
    .map((control) => ({ control, box: control.getBoundingClientRect() }))
    .filter(({ box }) => box.width > 0 && (box.width < least || box.height < least))
    .map(({ control, box }) => `${control.getAttribute('aria-label') ?? control.textContent}: ${box.width} by ${box.height}`);
}

/** The least size of a target, less half a pixel for engines that lay out in fractions. */
const BENCH_TARGET = 63.5;

/** A server with three pairs in the shop: two are late, one is promised for a date far ahead. */
async function threePairs(start: () => Promise<Waxend>): Promise<Waxend> {
  const server = await start();
  await standing(server, [
    { work: 'Half soles', price: '65', day: '2020-01-15', look: 'walking boot' },
    { work: 'Half soles', price: '65', day: '2019-12-01', look: 'derby' },
    { work: 'Restitch upper seam', price: '40', day: '2099-01-15', look: 'chelsea boot' },
  ]);
  return server;
}

test('pairs stand by station, the earliest day first, and go on together', async ({ waxend, newPhone }) => {
  const server = await threePairs(waxend);
  const phone = await newPhone();
  await joined(phone, server);
  const time = new Monday(phone);
  await time.begin();
  // The Bench is drawn and planned again at the new time.
  await phone.press('Shop', 'link');
  await phone.press('Bench', 'link');
  await standsAt(phone, { Cement: ['A2', 'A1'], Stitch: ['A3'] });
  await phone.sees('days late');
  await phone.sees('for 15 January 2099');
  // Wait for the plan: while a pair is picked, the order does not change.
  await phone.sees('Now: Cement');

  for (const tag of ['A1', 'A2']) await phone.press(`Pick ${tag}`);
  expect(await phone.run(smallerThan, BENCH_TARGET, 'main'), 'targets at the Bench').toEqual([]);
  await phone.press(/^Done for these 2/);
  await phone.sees('Half soles done for these 2.');
  await standsAt(phone, { 'Final check': ['A2', 'A1'], Stitch: ['A3'] });
  await phone.press('Undo');
  await standsAt(phone, { Cement: ['A2', 'A1'], Stitch: ['A3'] });

  // The usual wait after half soles is offered first.
  await phone.press('More');
  await phone.press('Start a wait for all');
  expect(await phone.run(smallerThan, BENCH_TARGET, 'main'), 'targets of the waits').toEqual([]);
  await phone.press('Cement, until dry to the touch: 15 min');
  await standsAt(phone, { Stitch: ['A3'], Drying: ['A2', 'A1'] });
  await phone.sees('15 min left');

  // Ten minutes of the wait pass, then the rest.
  await time.later(10);
  await phone.until('five minutes are left', () => document.querySelector('.bench-row .left')?.textContent === '5\u00a0min left');
  await time.later(6);
  await phone.sees('Dry: ');
  await standsAt(phone, { Cement: ['A2', 'A1'], Stitch: ['A3'] });
});

test("one job's work: reordered, skipped, made again, added to, and held until a wait is over", async ({ waxend, newPhone }) => {
  const server = await threePairs(waxend);
  const phone = await newPhone();
  await joined(phone, server);
  await new Monday(phone).begin();
  await phone.press(/^A1\b/, 'link');
  await phone.finds('[data-ready=work]');
  await phone.sees('Solvent: air, no flame, gloves, lid on.');

  const left = (expected: string): boolean =>
    [...document.querySelectorAll('[aria-label="Still to do"] .left-row > strong')].map((one) => one.textContent).join() === expected;
  const unfoldAll = (): Promise<void> =>
    phone.run(() => document.querySelectorAll('details').forEach((one) => { one.open = true; }));
  await unfoldAll();
  await phone.choose('Work to add', 'Heels (top pieces)');
  await phone.fill('Price, or what it is worth', '18.50');
  await phone.press('On the house');
  await phone.sees('Heels (top pieces) added.');
  await phone.until('both are to be done', left, 'Half soles,Heels (top pieces)');
  await unfoldAll();
  await phone.press('Heels (top pieces): sooner');
  await phone.until('the heels come first', left, 'Heels (top pieces),Half soles');
  await phone.press('Half soles: skip');
  await phone.until('one is left', left, 'Heels (top pieces)');
  await phone.press('Do it after all');
  await phone.until('both again', left, 'Heels (top pieces),Half soles');

  await phone.press('Heels (top pieces): done');
  await phone.until('one is left', left, 'Half soles');
  await phone.run(() => document.querySelectorAll('[aria-label=Done] details').forEach((one) => { (one as HTMLDetailsElement).open = true; }));
  await phone.press('Scrap: Top pieces');
  await phone.sees('To be made again. Scrap: Top pieces.');
  await phone.until('both again', left, 'Heels (top pieces),Half soles');

  await phone.press('Zip');
  await phone.sees('Waiting for material');
  await phone.press('Bench', 'link');
  await standsAt(phone, { Cement: ['A2'], Stitch: ['A3'], 'Waiting for material': ['A1'] });
  await phone.press(/^A1\b/, 'link');
  await phone.press('Waiting for material: over now');
  await phone.press('Note');
  await phone.fill('A word about it', 'soft at the seat');
  // A note that was typed but not kept is still there after leaving the screen.
  await phone.press('Bench', 'link');
  await standsAt(phone, { Cement: ['A2'], 'Build heel': ['A1'], Stitch: ['A3'] });
  await phone.press(/^A1\b/, 'link');
  await phone.until('the word is still there', () => [...document.querySelectorAll('input')].some((field) => field.value === 'soft at the seat'));
  await phone.press('Save the note');
  await phone.sees('soft at the seat');
  await phone.press('Bench', 'link');
  await standsAt(phone, { Cement: ['A2'], 'Build heel': ['A1'], Stitch: ['A3'] });

  await phone.press('Photograph A1', 'link');
  // The camera begins with the pair's next operation.
  await phone.until('the next operation is chosen', () => document.querySelector<HTMLSelectElement>('.camera select')?.selectedOptions[0]?.textContent === 'Heels (top pieces)');
  expect(await phone.run(smallerThan, BENCH_TARGET, '.camera'), 'targets at the camera').toEqual([]);
  await noteStep(phone, 'Heels (top pieces)');
  await phone.until('then the one after it', () => document.querySelector<HTMLSelectElement>('.camera select')?.selectedOptions[0]?.textContent === 'Half soles');
  await openLife(phone, 'A1');
  await phone.sees('soft at the seat');
});
