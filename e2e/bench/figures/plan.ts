/**
 * The bench plan in the browser: planning at the opening of the shop, repairing the plan after a step was noted, with a
 * growing number of pairs in the shop, and finding the day to promise. Measured at the app's worker, from the question to
 * the answer.
 */
import { ChromiumPhone, startChromium } from '../../helpers/chromium.ts';
import { Waxend } from '../../helpers/waxend.ts';
import { Writer, type Entry } from '../../helpers/writer.ts';
import type { Figure, Measure } from '../figure.ts';
import { median } from '../statistics.ts';

const PAIRS = [10, 20, 30, 50, 100];
const TIMES = 9;
const MOST: Record<number, number> = { 30: 50, 100: 250 };
/** One day, in ms. */
const DAY = 86_400_000;
/** Thursday 26 November 2026, 09:00 in Vienna, when the shop opens. */
const OPENING = 1_795_680_000_000;
/** The time from one step that is noted to the next, in ms. */
const STEP = 5 * 60_000;
const WORK = [
  ['half_sole'],
  ['sole_off', 'resole_cemented', 'edge_trim_ink', 'clean_condition_polish'],
  ['top_piece_replacement', 'clean_condition_polish'],
  ['open_up', 'sole_off', 'insole_repair', 'shank_replacement', 'filler_replacement', 'resole_welted', 'top_piece_replacement', 'edge_trim_ink', 'clean_condition_polish'],
  ['restitch_upper', 'colour_touch_up'],
  ['counter_rebuild', 'sock_replacement', 'strip_and_dye', 'water_repellent'],
];

const workOn = (number: number): string[] => WORK[number % WORK.length] ?? [];
/** The day promised: a few are late already, the others are spread over the days that the work takes. */
const promised = (number: number, pairs: number): string =>
  new Date(OPENING + (((number * 7) % pairs) / 3 - 1) * DAY).toISOString().slice(0, 10);

/** A pair that came in the day before the opening, as the app sends its log to the worker. */
interface Pair {
  job: string;
  first: string;
  log: { pair: string; entries: { entry: Entry }[] };
}

function taken(number: number, pairs: number): Pair {
  const writer = new Writer(OPENING - DAY, 1);
  const [ticket, pair, job] = [writer.subject(), writer.subject(), writer.subject()];
  const work = workOn(number);
  const entries = [
    writer.entry('ticket', ticket, 'opened', {}),
    writer.entry('ticket', ticket, 'detail', { field: 'day', value: promised(number, pairs) }),
    writer.entry('pair', pair, 'opened', {}),
    writer.entry('pair', pair, 'detail', { field: 'goods', value: 'low_shoe' }),
    writer.entry('job', job, 'opened', { pair, ticket }),
    writer.entry('job', job, 'detail', { field: 'tag', value: `A-${number}` }),
    ...work.map((operation) => writer.entry('job', job, 'agreed', { operation, side: 'both', price_minor: 2_000 })),
  ];
  if (number % 2 === 0) entries.push(writer.entry('job', job, 'step', { operation: 'stretch', side: 'both' }));
  return { job, first: work[0] ?? '', log: { pair, entries: entries.map((entry) => ({ entry })) } };
}

const at = (now: number): object => ({ now, zone: 'Europe/Vienna', offset_min: 60 });

/** Questions for the run: one at the opening, then one after each step that is noted on another pair. */
function afterSteps(pairs: number): string[] {
  const all = Array.from({ length: pairs }, (_, number) => taken(number + 1, pairs));
  const asked = (now: number): string =>
    JSON.stringify({ shop: { fields: {}, people: [] }, here: at(now), pairs: all.map(({ log }) => log), whole: true });
  const steps = all.slice(0, TIMES).map(({ job, first, log }, turn) => {
    const now = OPENING + (turn + 1) * STEP;
    log.entries.push({ entry: new Writer(now, 0).entry('job', job, 'step', { operation: first, side: 'both' }) });
    return asked(now);
  });
  return [asked(OPENING), ...steps];
}

/** Questions for the run at the opening of shops that differ in their settings, so that each is planned anew. */
function atOpenings(pairs: number): string[] {
  const logs = Array.from({ length: pairs }, (_, number) => taken(number + 1, pairs).log);
  const asked = (_: unknown, time: number): string =>
    JSON.stringify({ shop: { fields: { counter_share: 20 + time }, people: [] }, here: at(OPENING), pairs: logs, whole: true });
  return Array.from({ length: TIMES + 1 }, asked);
}

/** The question for the days beside so many pairs, asked again and again. */
function forDays(pairs: number): string[] {
  const job = (number: number): object => ({
    id: `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`,
    tag: `A-${number}`,
    goods: 'low_shoe',
    left: workOn(number),
    begun: number % 2 === 0,
    day: promised(number, pairs),
  });
  const jobs = Array.from({ length: pairs }, (_, number) => job(number + 1));
  const asked = { shop: { fields: {}, people: [] }, here: at(OPENING), jobs, new: [{ ...job(0), day: '' }] };
  return Array.from({ length: TIMES + 1 }, () => JSON.stringify(asked));
}

/** In the page: the ms that the worker takes for each of these questions but the first, which loads the module. */
async function asked(name: string, texts: string[]): Promise<number[]> {
  const page = window as unknown as { analytics?: Worker };
  const address = document.querySelector('meta[name=analytics]')!.getAttribute('content')!;
  const worker = (page.analytics ??= new Worker(address, { type: 'module' }));
  const took: number[] = [];
  for (const text of texts) {
    const began = performance.now();
    const channel = new MessageChannel();
    const told = new Promise<[string?, string?]>((resolve) => { channel.port1.onmessage = (event) => resolve(event.data as [string?, string?]); });
    worker.postMessage([name, text], [channel.port2]);
    const [said, wrong] = await told;
    if (said === undefined) throw new Error(wrong);
    took.push(performance.now() - began);
  }
  return took.slice(1);
}

export const plan: Figure = {
  name: 'plan',
  async measure() {
    const server = await Waxend.start();
    const browser = await startChromium();
    const phone = await ChromiumPhone.start(browser);
    await phone.open(server.url);
    const measures: Measure[] = [];
    const took = async (name: string, texts: string[]): Promise<number> => median(await phone.run(asked, name, texts));
    for (const pairs of PAIRS) {
      const most = MOST[pairs];
      const ours = await took('run', afterSteps(pairs));
      measures.push({ what: `planned anew, ${pairs} pairs, with what would help`, unit: 'ms', ours, ...(most && { target: { most } }) });
    }
    measures.push({ what: 'planned at the opening, 30 pairs', unit: 'ms', ours: await took('run', atOpenings(30)) });
    measures.push({ what: 'days to promise beside 30 pairs', unit: 'ms', ours: await took('days', forDays(30)) });
    await browser.close();
    await server.remove();
    return measures;
  },
};
