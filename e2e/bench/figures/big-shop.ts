/** A shop of ten years: when a new device can be used, when it has everything, and how fast it starts afterwards. */
import type { Page } from '@playwright/test';

import { Waxend } from '../../helpers/waxend.ts';
import { Device, type Screen } from '../cold-start.ts';
import type { Figure, Measure } from '../figure.ts';
import { ENTRIES_A_PAIR, fill } from '../shop.ts';
import { median } from '../statistics.ts';
import { throttles } from '../throttle.ts';

const STARTS = 5;
/** A device that takes longer than this to receive everything is treated as broken, in ms. */
const PATIENCE = 300_000;

export const bigShop: Figure = {
  name: 'big-shop',
  async measure() {
    const small = await shopOf(500);
    const large = await shopOf(20_000);
    // The small shop is what the large one is compared with.
    const starts = large.starts.map((measure, index): Measure => {
      const bare = small.starts[index]?.ours;
      return bare === undefined ? measure : { ...measure, bare, target: { timesBare: 1.2 } };
    });
    return [...small.starts, ...starts, ...large.joining, ...large.screens];
  },
};

interface Measured {
  joining: Measure[];
  starts: Measure[];
  screens: Measure[];
}

/**
 * The screens, in the order in which they are opened. Records comes first, since a pair's history is opened from it.
 */
const SCREENS: Screen[] = [
  { what: 'Records', go: (page) => tap(page, 'Records'), ready: '.pairs .pair-row' },
  { what: "a pair's life", go: (page) => page.locator('.pair-row a').first().click(), ready: 'section.job' },
  { what: 'Bench', go: (page) => tap(page, 'Bench'), ready: '[data-ready=bench] .bench-row' },
  { what: 'Shop', go: (page) => tap(page, 'Shop'), ready: 'a[href="/shop/truth"]' },
  { what: 'what jobs really cost', go: (page) => tap(page, 'What each job earns'), ready: '[data-ready=truth] li' },
];

async function tap(page: Page, name: string): Promise<void> {
  await page.getByRole('link', { name, exact: true }).click();
}

async function shopOf(pairs: number): Promise<Measured> {
  const entries = pairs * ENTRIES_A_PAIR;
  const size = `${pairs.toLocaleString('en')} pairs, ${entries.toLocaleString('en')} entries`;
  const server = await Waxend.start();
  await fill(server, pairs);
  const joining: Measure[] = [];
  const link = await server.joinLink();
  const device = await Device.with({
    url: link,
    prepare: async (page) => void joining.push(...(await join(page, entries, size))),
    disconnect: () => server.stop(),
  });
  const starts: Measure[] = [];
  for (const throttle of throttles()) {
    const took: number[] = [];
    for (let start = 0; start < STARTS; start += 1) took.push(await device.coldStart(`${server.url}/`, throttle));
    starts.push({
      what: `offline cold start, ${size}`,
      throttle: throttle.name,
      unit: 'ms',
      ours: median(took),
      target: { most: 1000 },
    });
  }
  const screens: Measure[] = [];
  for (const throttle of throttles()) {
    const { took, heapMb } = await device.screens(`${server.url}/`, throttle, SCREENS);
    SCREENS.forEach(({ what }, at) => screens.push({
      what: `${what}, ${size}`,
      throttle: throttle.name,
      unit: 'ms',
      ours: took[at]!,
      target: { most: 1000 },
    }));
    screens.push({ what: `memory of the page's scripts after these screens, ${size}`, throttle: throttle.name, unit: 'MB', ours: heapMb });
  }
  await device.remove();
  await server.remove();
  return { joining, starts, screens };
}

/** Measures the time from opening the link to a Bench with pairs, and to all entries of the server. */
async function join(page: Page, entries: number, size: string): Promise<Measure[]> {
  const options = { timeout: PATIENCE };
  await page.waitForSelector('[data-ready=bench] .bench-row', options);
  const usable = (await page.evaluate(() => performance.now())) / 1000;
  await page.getByRole('link', { name: 'Shop' }).click();
  await page.waitForFunction(
    (all) => Number(document.querySelector('[data-count=entries]')?.textContent) >= all && document.querySelector('[data-phase=up-to-date]'),
    entries,
    options,
  );
  const complete = (await page.evaluate(() => performance.now())) / 1000;
  return [
    { what: `new device, ${size}: usable`, unit: 's', ours: usable, target: { most: 5 } },
    { what: `new device, ${size}: complete`, unit: 's', ours: complete, target: { most: 30 } },
  ];
}
