/** Ten tickets at the counter: each is taken in by the names of its chips, and lies on the Bench with its work. */
import { counting, type Counting } from '../helpers/counting.ts';
import { expect, test, type Phone } from '../helpers/test.ts';
import { noteDown, stillToDo, TEN_TICKETS, type Ticket } from '../helpers/tickets.ts';

/** How many of the tickets are counted by taps, from the first. */
const COUNTED = 4;

/** Sells goods that are on no list beside the work. */
async function sell(phone: Phone, hand: Counting, [what, price]: [string, string]): Promise<void> {
  await phone.run(() => document.querySelector<HTMLElement>('[aria-label=Sundries] summary')?.click());
  await hand.fill('What', what);
  await hand.press('Add these goods');
  await hand.fill(`Price of ${what}`, price);
}

/** Takes a ticket in. The phone then shows its stub. */
async function takeTicketIn(phone: Phone, hand: Counting, ticket: Ticket): Promise<void> {
  await hand.press('Drop-off', 'link');
  await noteDown(hand, ticket);
  if (ticket.goods) await sell(phone, hand, ticket.goods);
  await hand.press(ticket.day ?? 'Customer waits');
  await phone.until(`${ticket.called} costs ${ticket.total}`, (total) =>
    document.querySelector('[data-total]')?.textContent === total, ticket.total);
  await hand.press('Take in and print');
  await phone.sees('Left with us');
}

/** Waits until the row of a pair on the Bench says all of this. */
async function onTheBench(phone: Phone, tag: string, said: string[]): Promise<void> {
  await phone.until(`${tag} is on the Bench with ${said.join('; ')}`, (tag, said) => {
    const rows = [...document.querySelectorAll<HTMLElement>('.bench-row')];
    const row = rows.find((one) => one.querySelector('.tag')?.textContent === tag);
    const text = row?.textContent?.replace(/\s+/g, ' ') ?? '';
    return said.every((one) => text.includes(one));
  }, tag, said);
}

test('ten tickets are taken in by the names of their work, and lie on the Bench', async ({ site, newPhone }) => {
  const phone = await newPhone();
  await phone.open((await site()).url);
  await phone.finds('[data-ready=bench]');
  const hand = counting(phone);
  for (const ticket of TEN_TICKETS.slice(0, COUNTED)) await takeTicketIn(phone, hand, ticket);
  expect(hand.presses(), 'taps for four tickets').toBeLessThanOrEqual(25);
  expect(hand.fields(), 'nothing is typed').toBe(0);
  for (const ticket of TEN_TICKETS.slice(COUNTED)) await takeTicketIn(phone, hand, ticket);

  for (const [at, ticket] of TEN_TICKETS.entries()) {
    const tag = `${at + 1}`;
    await phone.press('Bench', 'link');
    const waits = ticket.day === undefined ? ['Customer waits'] : [];
    await onTheBench(phone, tag, [ticket.called, ticket.next, ...waits]);
    await phone.press(new RegExp(`^${tag} ${ticket.called}`), 'link');
    await phone.finds('[data-ready=work]');
    await stillToDo(phone, ticket.toDo);
    if (ticket.wish) await phone.sees(ticket.wish);
  }
});
