/** Every screen of the demo shop, with data on it: where it is, and by what it is known. */
import type { Looked } from './measures.ts';
import type { Waxend } from './waxend.ts';
import { joinedWriter, type Entry } from './writer.ts';

/** A screen that has an address. */
export interface Shown extends Looked {
  /** The name of its pictures. */
  name: string;
  path: string;
  /** A text on it that comes from the demo's data, or its own title. */
  says: string;
  /** A selector of what is there only when the screen is complete, if that comes later than the rest. */
  complete?: string;
}

/** The jobs of a shop by their tag numbers, each with its pair and its ticket. */
export type Demo = (tag: string) => { job: string; pair: string; ticket: string };

/** Reads the jobs of a shop from its server. */
export async function readDemo(server: Waxend): Promise<Demo> {
  const { token } = await joinedWriter(server);
  const jobs = new Map<string, { job: string; pair: string; ticket: string }>();
  const tags = new Map<string, string>();
  for (let [more, cursor] = [true, '']; more; ) {
    const answer = await fetch(`${server.url}/api/v1/entries${cursor}`, { headers: { authorization: `Bearer ${token}` } });
    const page = (await answer.json()) as { entries: { entry: Entry }[]; more: boolean; cursor: Record<string, string> };
    for (const { entry } of page.entries.filter(({ entry }) => entry.subject.kind === 'job')) {
      const body = JSON.parse(entry.body) as Record<string, string>;
      const job = entry.subject.id;
      if (entry.kind === 'opened') jobs.set(job, { job, pair: body['pair'] ?? '', ticket: body['ticket'] ?? '' });
      if (entry.kind === 'detail' && body['field'] === 'tag') tags.set(body['value'] ?? '', job);
    }
    [more, cursor] = [page.more, `?${new URLSearchParams(page.cursor)}`];
  }
  return (tag) => {
    const found = jobs.get(tags.get(tag) ?? '');
    if (!found) throw new Error(`the shop has no job ${tag}`);
    return found;
  };
}

/**
 * The screens. 334 is taken in and not begun, 329 waits for an answer, 322 is ready, 331 can be checked, and 318 has left
 * with the pair that was here four times.
 */
export function screens(demo: Demo, card: string): Shown[] {
  const begun = demo('334').job;
  const visits = demo('318').pair;
  const run = ['334', '323', '325'].map((tag) => demo(tag).job).join(',');
  return [
    { title: 'Bench', name: 'bench', path: '/', says: 'slate ankle boot', content: '.bench-row', pairs: 'a[href^="/job/"]', complete: '.planned:not(:empty)' },
    { title: 'Camera', name: 'camera', path: `/camera/${begun}?run=${run}`, says: '334', content: 'video' },
    { title: 'Work', name: 'work', path: `/job/${begun}`, says: 'Joss Tarrant', content: '[aria-label="Still to do"]', complete: 'main img' },
    { title: 'Opening up', name: 'open-up', path: `/open/${demo('329').job}`, says: '329', content: '.drawings .drawing svg', complete: 'main img' },
    { title: 'Ask', name: 'ask', path: `/ask/${demo('329').job}`, says: 'the heels are board', content: '[aria-label="Open question"]', complete: 'main img' },
    { title: "A pair's history", name: 'pair', path: `/pair/${visits}`, says: 'Mara Tolle', content: 'main section', complete: '.photographs img' },
    { title: 'Compare', name: 'compare', path: `/pair/${visits}/compare`, says: 'chestnut derby', content: '.laid', complete: '.laid img' },
    { title: 'Drop-off', name: 'drop-off', path: '/drop-off', says: 'Walking boot', content: 'main section' },
    { title: 'Pickup', name: 'pickup', path: `/pickup/${demo('322').job}`, says: 'sea green moccasin', content: '[aria-label="Final check"]', complete: '.preview img' },
    { title: 'Pickup, not checked', name: 'pickup-unchecked', path: `/pickup/${demo('331').job}`, says: 'brown belt', content: '[aria-label="Final check"]', complete: '.preview img' },
    { title: 'Collection of a ticket', name: 'ticket', path: `/ticket/${demo('329').ticket}`, says: 'cherry court shoe', content: 'main ul', complete: 'main img' },
    { title: 'Collection, not collected', name: 'not-collected', path: '/collect', says: 'sea green moccasin', content: '[aria-label=Waiting]', complete: 'main img' },
    { title: 'Complaint', name: 'complaint', path: `/complaint/${demo('318').job}`, says: 'What was done', content: 'main section', complete: '.photograph img' },
    { title: 'Stub and tags', name: 'print', path: `/print/${demo('329').ticket}`, says: 'Left with us', content: '.stub' },
    { title: 'Records', name: 'records', path: '/records', says: 'slate ankle boot', content: '[aria-label=Found]', complete: 'main img' },
    { title: 'Shop', name: 'shop', path: '/shop', says: 'Hanne Brook', content: 'main section' },
    { title: 'Price list', name: 'prices', path: '/shop/prices', says: 'Half soles', content: 'main section, main details' },
    { title: 'What jobs cost', name: 'truth', path: '/shop/truth', says: '£', content: '.truth, main p' },
    { title: 'Books', name: 'books', path: '/shop/books', says: 'Books', content: '[data-ready=books]' },
    { title: 'Shelf', name: 'shelf', path: '/shop/shelf', says: 'Shelf', content: '[data-ready=shelf]' },
    { title: 'Bring in', name: 'bring', path: '/shop/bring', says: 'Choose a file', content: '[data-ready=bring]' },
    { title: 'Calculation', name: 'reckon', path: `/reckon/${begun}/sole?operation=resole_cemented`, says: 'slate ankle boot', content: '.answer', complete: 'main img' },
    { title: "The customer's card", name: 'card', path: card, says: 'Care card', content: 'img' },
  ];
}

/** The list of all calculations; it is unfolded on the page of the work. */
export const CALCULATIONS: Looked = { title: 'Calculations', content: 'details.helpers a' };
export const FOUR_PAIRS: Looked = { title: 'Drop-off of four pairs', content: 'main section' };
export const JOIN: Looked = { title: 'Join', content: 'input' };

/** The parts of Pickup: what belongs to each, and where it begins. */
export const PICKUP_PARTS = [
  { title: 'Pickup, check', name: 'pickup-check', of: '#final-check', begins: '#final-check' },
  { title: 'Pickup, card', name: 'pickup-card', of: '#on-the-card, .preview', begins: '#on-the-card' },
  { title: 'Pickup, pay', name: 'pickup-pay', of: '#money, #leave', begins: '#money' },
] as const;
