/**
 * The bench plan in the browser: planning again after something was noted, with a growing number of pairs in the shop,
 * and finding the day to promise. Measured at the app's worker, from the question to the answer.
 */
import { ChromiumPhone, startChromium } from '../../helpers/chromium.ts';
import { Waxend } from '../../helpers/waxend.ts';
import type { Figure, Measure } from '../figure.ts';
import { median } from '../statistics.ts';

const PAIRS = [10, 20, 30, 50, 100];
const TIMES = 9;
const MOST: Record<number, number> = { 30: 50, 100: 250 };
/** Thursday 26 November 2026, 09:00 in Vienna. */
const NOW = 1_795_680_000_000;
const WORK = [
  ['half_sole'],
  ['sole_off', 'resole_cemented', 'edge_trim_ink', 'clean_condition_polish'],
  ['top_piece_replacement', 'clean_condition_polish'],
  ['open_up', 'sole_off', 'insole_repair', 'shank_replacement', 'filler_replacement', 'resole_welted', 'top_piece_replacement', 'edge_trim_ink', 'clean_condition_polish'],
  ['restitch_upper', 'colour_touch_up'],
  ['counter_rebuild', 'sock_replacement', 'strip_and_dye', 'water_repellent'],
];

const question = (name: 'run' | 'days', pairs: number): string => {
  const job = (number: number): object => ({
    id: `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`,
    tag: `A-${number}`,
    goods: 'low_shoe',
    left: WORK[number % WORK.length],
    begun: number % 2 === 0,
    // A few are late already; the others are spread over the days that the work takes.
    day: new Date(NOW + (((number * 7) % pairs) / 3 - 1) * 86_400_000).toISOString().slice(0, 10),
  });
  const jobs = Array.from({ length: pairs }, (_, number) => job(number + 1));
  const asked = { shop: { fields: {}, people: [] }, here: { now: NOW, zone: 'Europe/Vienna', offset_min: 60 }, jobs };
  return JSON.stringify(name === 'run' ? asked : { ...asked, new: [{ ...job(0), day: '' }] });
};

/** In the page: the ms that the worker takes for a question, each time. */
async function asked(name: string, text: string, times: number): Promise<number[]> {
  const page = window as unknown as { analytics?: Worker };
  const address = document.querySelector('meta[name=analytics]')!.getAttribute('content')!;
  const worker = (page.analytics ??= new Worker(address, { type: 'module' }));
  const answer = async (): Promise<void> => {
    const channel = new MessageChannel();
    const told = new Promise<[string?, string?]>((resolve) => { channel.port1.onmessage = (event) => resolve(event.data as [string?, string?]); });
    worker.postMessage([name, text], [channel.port2]);
    const [said, wrong] = await told;
    if (said === undefined) throw new Error(wrong);
  };
  // The first question loads the module.
  await answer();
  const took: number[] = [];
  for (let time = 0; time < times; time += 1) {
    const began = performance.now();
    await answer();
    took.push(performance.now() - began);
  }
  return took;
}

export const plan: Figure = {
  name: 'plan',
  async measure() {
    const server = await Waxend.start();
    const browser = await startChromium();
    const phone = await ChromiumPhone.start(browser);
    await phone.open(server.url);
    const measures: Measure[] = [];
    for (const pairs of PAIRS) {
      const took = median(await phone.run(asked, 'run', question('run', pairs), TIMES));
      const most = MOST[pairs];
      measures.push({ what: `planned anew, ${pairs} pairs, with what would help`, unit: 'ms', ours: took, ...(most && { target: { most } }) });
    }
    const days = median(await phone.run(asked, 'days', question('days', 30), TIMES));
    measures.push({ what: 'days to promise beside 30 pairs', unit: 'ms', ours: days });
    await browser.close();
    await server.remove();
    return measures;
  },
};
