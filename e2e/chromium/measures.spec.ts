/**
 * The measures of every screen, and the taps of the commonest ways through them. No measure becomes worse than its limit
 * (`fixtures/measures.json`). With `WAXEND_MEASURES=before` or `after` they are noted in `pictures/MEASURES.md` instead, and
 * every screen is photographed; with `limits`, new limits are noted.
 */
import type { ChromiumPhone } from '../helpers/chromium.ts';
import { counting, type Counting } from '../helpers/counting.ts';
import { chromiumTest as test, expect } from '../helpers/test.ts';
import { FRAMES, heightOf, measure, named, noteColumn, noteLimits, photograph, purpose, quiet, worse, type Looked, type Measured } from '../helpers/measures.ts';
import { CALCULATIONS, FOUR_PAIRS, JOIN, PICKUP_PARTS, readDemo, screens } from '../helpers/screens.ts';
import { standing } from '../helpers/standing.ts';
import { noteDown, TEN_TICKETS } from '../helpers/tickets.ts';
import type { Waxend } from '../helpers/waxend.ts';
import { joined } from '../helpers/work.ts';

const PURPOSE = purpose();
/** The folder for pictures; none are taken if the measures are only held to their limits. */
const PICTURES = PURPOSE === 'before' || PURPOSE === 'after' ? PURPOSE : undefined;

/** Six pairs that are alike, so that the plan has them in one run. */
const SIX = [1, 2, 3, 4, 5, 6];

const taken = ({ presses, fields }: Counting): number => presses() + fields();

/** Measures the screen that is shown, and takes its pictures. */
async function note(all: Measured, phone: ChromiumPhone, of: Looked & { name: string }, loaded: boolean): Promise<void> {
  for (const [name, value] of await measure(phone, of, loaded)) all.set(name, value);
  if (PICTURES) await photograph(phone, PICTURES, of.name);
}

/** Measures the parts of Pickup that is shown. */
async function noteParts(all: Measured, phone: ChromiumPhone): Promise<void> {
  for (const { title, name, of, begins } of PICKUP_PARTS) {
    all.set(named(title, 'part'), await heightOf(phone, of));
    await phone.run((begins) => document.querySelector(begins)?.scrollIntoView(), begins);
    if (PICTURES) await photograph(phone, PICTURES, name, 'here');
  }
}

/** Four pairs of one customer on one ticket; the form is measured when it is complete. */
async function fourPairs(all: Measured, phone: ChromiumPhone): Promise<void> {
  const hand = counting(phone);
  await hand.press('Drop-off', 'link');
  await phone.finds('.drop-off');
  await phone.run(quiet, FRAMES);
  await hand.fill("Customer's name", 'Ottoline Brack');
  await hand.press('Walking boot');
  await hand.press('Half soles');
  await hand.press('Heels (top pieces)');
  await hand.press('+ another pair');
  await hand.press('Court shoe');
  await hand.press('Heels (top pieces)');
  await hand.press('+ another pair');
  await hand.press('Boot');
  await hand.press('Zip');
  await hand.fill('Price of Zip', '55');
  await hand.press('+ another pair');
  await hand.press('Belt');
  await hand.press('New hole');
  await hand.press('In 3 days');
  await note(all, phone, { ...FOUR_PAIRS, name: 'drop-off-four' }, false);
  await hand.press('Take in and photograph');
  await phone.finds('.camera');
  all.set(named('Four pairs on one ticket', 'taps'), taken(hand));
}

/** Four customers with a pair each, who come one after the other. */
async function fourTickets(all: Measured, phone: ChromiumPhone): Promise<void> {
  const hand = counting(phone);
  for (const ticket of TEN_TICKETS.slice(0, 4)) {
    await hand.press('Drop-off', 'link');
    await phone.finds('.drop-off');
    // What the shop has sold and brought most arrives with the form, which is then drawn once more.
    await phone.run(quiet, FRAMES);
    // Before, the rarer kinds of goods were folded away.
    if (!(await phone.has(ticket.kind, 'button'))) await hand.press('More kinds');
    await noteDown(hand, ticket);
    await hand.press(ticket.day ?? 'Customer waits');
    await hand.press('Take in and print');
    await phone.sees('Left with us');
  }
  all.set(named('Four tickets of one pair', 'taps'), taken(hand));
}

/** Two pairs of a ticket are checked, each on its page, and then paid and handed over together. */
async function twoHandedOver(all: Measured, phone: ChromiumPhone, tags: [string, string]): Promise<void> {
  const bench = counting(phone);
  for (const tag of tags) {
    await bench.press('Bench', 'link');
    await bench.press(new RegExp(`^${tag}\\b`), 'link');
    await bench.press('Collection', 'link');
    const lines = await phone.until('there is a list to tick', () => {
      const rows = [...document.querySelectorAll('[aria-label="Final check"] .ticks li')];
      return rows.length > 0 && rows.map((one) => one.textContent?.trim() ?? '');
    });
    for (const line of lines as string[]) await bench.press(line, 'checkbox');
    await bench.press('Checked');
    await phone.finds('[aria-label="Final check"] .good');
  }
  all.set(named('Two pairs handed over, at the bench', 'taps'), taken(bench));
  await phone.press('Bench', 'link');
  const counter = counting(phone);
  await counter.press(new RegExp(`^${tags[0]}\\b`), 'link');
  await counter.press('Collection', 'link');
  await counter.press(/^Its ticket/, 'link');
  await counter.press(/^Paid now: .* the 2 that are ready$/);
  await phone.sees('Noted.');
  await counter.press('Hand over the 2 that are ready');
  await phone.sees('has left the shop');
  all.set(named('Two pairs handed over, at the counter', 'taps'), taken(counter));
}

/** Takes one photograph of each pair before the camera, and goes back to the Bench. */
async function sixShots(phone: ChromiumPhone, hand: Counting): Promise<void> {
  for (const pair of SIX) {
    await phone.sees(`${pair} of 6`);
    await phone.until('the shutter is ready', () => document.querySelector('.shutter:not([disabled])') !== null);
    await hand.press(pair < SIX.length ? 'Take, next pair' : 'Take, to the Bench');
  }
  await phone.finds('[data-ready=bench]');
}

/**
 * Six pairs are photographed in the run that is planned, and when they were picked one by one. The plan may have fewer in
 * a run, so the camera that its button opens is then given all six.
 */
async function sixPhotographed(all: Measured, phone: ChromiumPhone, server: Waxend): Promise<void> {
  const demo = await readDemo(server);
  const jobs = SIX.map((pair) => demo(`A${pair}`).job);
  const planned = counting(phone);
  await planned.press('Photograph this run', 'link');
  await phone.finds('.camera');
  await phone.open(`${server.url}/camera/${jobs[0]}?run=${jobs.join(',')}`);
  await sixShots(phone, planned);
  all.set(named('Six photographed, as planned', 'taps'), taken(planned));
  const chosen = counting(phone);
  for (const pair of SIX) await chosen.press(`Pick A${pair}`);
  await chosen.press('Photograph these 6', 'link');
  await sixShots(phone, chosen);
  all.set(named('Six photographed, as chosen', 'taps'), taken(chosen));
}

/** A finding is noted on the screen for it, and the customer is asked. */
async function openedAndAsked(all: Measured, phone: ChromiumPhone): Promise<void> {
  await phone.press('Bench', 'link');
  await phone.press(/^A1\b/, 'link');
  await phone.press('Opening up', 'link');
  await phone.sees('Tap the part.');
  const hand = counting(phone);
  for (const tap of ['Stiffener', 'Crushed', 'Replace', 'Customer', 'I have asked']) await hand.press(tap);
  await phone.sees('Asked. The pair is held');
  all.set(named('Opened, and the customer asked', 'taps'), taken(hand));
}

test('no screen is longer, fuller or less steady than its limits, and no way takes more taps', async ({ waxend, newPhone }) => {
  test.slow(PICTURES !== undefined);
  const all: Measured = new Map();
  const [server, other] = [await waxend({ demo: true }), await waxend()];
  const phone = await newPhone();
  await phone.open(`${server.url}/join`);
  await phone.sees('Join the shop');
  await note(all, phone, { ...JOIN, name: 'join' }, true);
  await phone.open('about:blank');
  await joined(phone, server);
  await phone.seesNo('This device has joined the shop.');

  const demo = await readDemo(server);
  for (const screen of screens(demo, new URL(server.demoCard).pathname)) {
    await phone.open(server.url + screen.path);
    await phone.sees(screen.says);
    await phone.finds(screen.content);
    if (screen.complete !== undefined) await phone.finds(screen.complete);
    await note(all, phone, screen, true);
    if (screen.name === 'pickup') await noteParts(all, phone);
  }
  await phone.open(`${server.url}/job/${demo('334').job}`);
  await phone.finds('details.helpers');
  await phone.run(() => document.querySelectorAll('details.helpers').forEach((one) => one.setAttribute('open', '')));
  await note(all, phone, { ...CALCULATIONS, name: 'calculations' }, false);

  await fourPairs(all, phone);
  const tags = await phone.until('the first two numbers', () => {
    const [, letter, number] = /^Photograph ([A-Z]+)(\d+)\b/.exec(document.querySelector('.shutter')?.getAttribute('aria-label') ?? '') ?? [];
    return letter !== undefined && [`${letter}${number}`, `${letter}${Number(number) + 1}`];
  });
  await twoHandedOver(all, phone, tags as [string, string]);
  await fourTickets(all, phone);

  await standing(other, SIX.map((pair) => ({ work: 'Half soles', price: '65', look: `boot ${pair}` })));
  await phone.open('about:blank');
  await joined(phone, other);
  await phone.sees('Photograph this run');
  await phone.run(quiet, FRAMES);
  await sixPhotographed(all, phone, other);
  await openedAndAsked(all, phone);

  if (PICTURES) noteColumn(PICTURES, all);
  if (PURPOSE === 'limits') noteLimits(all);
  if (PURPOSE === 'hold') expect(worse(all), 'worse than before').toEqual([]);
});
