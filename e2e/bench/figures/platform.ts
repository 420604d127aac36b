/**
 * The time that this machine's browser takes for the basic work without the app, which shows how fast the machine is in
 * this run.
 */
import { ChromiumPhone, startChromium } from '../../helpers/chromium.ts';
import { DIST } from '../../helpers/paths.ts';
import { Site } from '../../helpers/site.ts';
import { keepPhotos } from '../bare/photo.ts';
import { storeRecords } from '../bare/records.ts';
import type { Figure, Measure } from '../figure.ts';
import { median, percentile } from '../statistics.ts';

/** The size of a camera frame: as large as the photographs that the app keeps. */
export const CAMERA = { width: 2048, height: 1536 };
/** How often the records are written; the median is taken. */
const TURNS = 5;

export const platform: Figure = {
  name: 'platform',
  async measure() {
    const site = await Site.start(DIST);
    const browser = await startChromium(CAMERA);
    const phone = await ChromiumPhone.start(browser);
    await phone.open(site.url);
    const measures = [await records(phone), ...(await photos(phone))];
    await browser.close();
    await site.stop();
    return measures;
  },
};

async function records(phone: ChromiumPhone): Promise<Measure> {
  const took: number[] = [];
  for (let turn = 0; turn < TURNS; turn += 1) took.push(await phone.run(storeRecords, 5000));
  return { what: '5,000 records from JSON into IndexedDB', unit: 'ms', bare: median(took) };
}

async function photos(phone: ChromiumPhone): Promise<Measure[]> {
  const took = await phone.run(keepPhotos, 30);
  const what = 'camera frame to stored JPEG, 2048 px';
  return [
    { what: `${what}, median of 30`, unit: 'ms', bare: median(took) },
    { what: `${what}, p95 of 30`, unit: 'ms', bare: percentile(took, 0.95) },
  ];
}
