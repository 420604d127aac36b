/** Tickets as they come over a counter, in the words a repairer uses, and how a pair is noted at the drop-off. */
import type { Counting } from './counting.ts';
import type { Phone } from './phone.ts';

/** One line of work. */
export interface TicketWork {
  /** What the work is called on its chip. */
  chip: string;
  /** What is typed to find it; without this it is among the usual work on such goods. */
  find?: string;
  /** In what it is done. */
  variant?: string;
  /** The only shoe of the pair that it is done on. */
  side?: 'Left' | 'Right';
  /** How many pieces. */
  count?: number;
}

/** A pair, or another thing, and what is to be done with it. */
export interface TicketPair {
  kind: string;
  work: TicketWork[];
  look?: string;
  colour?: string;
  materials?: string[];
  wish?: string;
}

/** A ticket with one pair. */
export interface Ticket extends TicketPair {
  /** What is sold beside the work, and its price. */
  goods?: [what: string, price: string];
  /** The chip of the day; without one the customer waits. */
  day?: string;
  /** What the form says that it costs in all. */
  total: string;
  /** How the pair is called on the Bench. */
  called: string;
  /** What is next, as its row on the Bench says it. */
  next: string;
  /** What is still to do, as the page of its work says it. */
  toDo: string[];
}

/** The prices are the starting prices of the list (`shared/src/trade/operations`), if nothing else is said. */
export const TEN_TICKETS: Ticket[] = [
  {
    kind: 'Court shoe',
    called: 'Court shoe',
    work: [{ chip: 'Heels (top pieces)', variant: 'Hard plastic, for slender heels' }],
    total: '10.00',
    next: 'Heels (top pieces)',
    toDo: ['Heels (top pieces), hard plastic, for slender heels'],
  },
  {
    kind: 'Long boot',
    called: 'Long boot',
    work: [{ chip: 'Zip slider', side: 'Left' }],
    day: 'In 3 days',
    total: '18.00',
    next: 'Zip slider, left',
    toDo: ['Zip slider, left'],
  },
  {
    kind: 'Belt',
    called: 'Belt',
    work: [{ chip: 'New hole', count: 2 }],
    day: 'Tomorrow',
    // Each hole is 3.
    total: '6.00',
    next: 'New hole',
    toDo: ['New hole × 2'],
  },
  {
    kind: 'Trainer',
    called: 'Trainer',
    work: [{ chip: 'Trainer soles' }],
    day: 'In 7 days',
    total: '65.00',
    next: 'Trainer soles',
    toDo: ['Trainer soles'],
  },
  {
    kind: 'Shoe',
    look: 'derby',
    colour: 'oxblood',
    called: 'oxblood derby',
    work: [{ chip: 'Half soles and heels' }],
    materials: ['Leather sole', 'Smooth leather'],
    day: 'In 7 days',
    // 92 % of 38 and 16, rounded.
    total: '50.00',
    next: 'Half soles, then 1 more',
    toDo: ['Half soles', 'Heels (top pieces)'],
  },
  {
    kind: 'Climbing shoe',
    look: 'slipper',
    colour: 'blue',
    called: 'blue slipper',
    work: [{ chip: 'Climbing soles', variant: 'Forepart' }],
    wish: 'As thin as before at the toe',
    day: 'In 7 days',
    total: '45.00',
    next: 'Climbing soles',
    toDo: ['Climbing soles, forepart'],
  },
  {
    kind: 'Boot',
    look: 'chukka',
    colour: 'sand',
    called: 'sand chukka',
    work: [{ chip: 'Suede cleaning', find: 'suede' }, { chip: 'Salt stains', find: 'salt' }],
    materials: ['Suede or nubuck'],
    day: 'In 3 days',
    // 18 and 14.
    total: '32.00',
    next: 'Suede cleaning, then 1 more',
    toDo: ['Suede cleaning', 'Salt stains'],
  },
  {
    kind: 'Bag',
    look: 'shopper',
    colour: 'black',
    called: 'black shopper',
    work: [{ chip: 'Restitch seam' }],
    wish: 'One handle, both ends',
    day: 'In 3 days',
    total: '18.00',
    next: 'Restitch seam',
    toDo: ['Restitch seam'],
  },
  {
    kind: 'Safety boot',
    colour: 'brown',
    called: 'brown safety boot',
    work: [{ chip: 'Condition and polish' }],
    goods: ['Laces 150', '5'],
    wish: 'Nothing on the soles',
    day: 'Tomorrow',
    // 18 for the polish.
    total: '23.00',
    next: 'Condition and polish',
    toDo: ['Condition and polish'],
  },
  {
    kind: 'Orthopaedic shoe',
    colour: 'grey',
    called: 'grey orthopaedic shoe',
    work: [{ chip: 'Raise to prescription', side: 'Right' }],
    wish: '12 mm under heel and ball, as prescribed',
    day: 'In 7 days',
    // 60 % of 72, rounded up.
    total: '44.00',
    next: 'Raise to prescription, right',
    toDo: ['Raise to prescription, right'],
  },
];

/** Notes a pair in the drop-off that is shown. */
export async function noteDown(hand: Counting, pair: TicketPair): Promise<void> {
  await hand.press(pair.kind);
  if (pair.work.some((one) => one.find)) await hand.press('More work');
  for (const one of pair.work) {
    if (one.find) await hand.fill('Find work', one.find);
    await hand.press(one.chip);
    if (one.variant) await hand.press(one.variant);
    for (let pieces = 1; pieces < (one.count ?? 1); pieces += 1) await hand.press(`One more, ${one.chip}`);
    if (one.side) await hand.press(one.side);
  }
  const fields: [string, string | undefined][] = [
    ['What it is', pair.look],
    ['Colour', pair.colour],
    ['What the customer wishes', pair.wish],
  ];
  for (const [label, text] of fields) {
    if (text !== undefined) await hand.fill(label, text);
  }
  for (const material of pair.materials ?? []) await hand.press(material);
}

/** Waits until the page of a pair's work says that this, and only this, is still to do, next first. */
export async function stillToDo(phone: Phone, wanted: string[]): Promise<void> {
  await phone.until(`${wanted.join(', ')} still to do`, (wanted) => {
    const rows = document.querySelectorAll('[aria-label="Still to do"] li.left-row > strong');
    return [...rows].map((one) => one.textContent).join('; ') === wanted.join('; ');
  }, wanted);
}
