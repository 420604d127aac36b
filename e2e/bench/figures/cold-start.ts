/**
 * The cold start without a network to a Bench that can be used, compared with an empty page that starts the same way.
 */
import { fileURLToPath } from 'node:url';

import { DIST } from '../../helpers/paths.ts';
import { Site } from '../../helpers/site.ts';
import { Device } from '../cold-start.ts';
import type { Figure, Measure } from '../figure.ts';
import { sideBySide } from '../statistics.ts';
import { throttles } from '../throttle.ts';

const BARE = fileURLToPath(new URL('../bare/page/', import.meta.url));
const STARTS = 9;

/** Opens the app in this folder on a new device and makes the server unreachable. */
async function deviceWith(folder: string): Promise<{ device: Device; url: string }> {
  const site = await Site.start(folder);
  const device = await Device.with({ url: site.url, disconnect: () => site.stop() });
  return { device, url: site.url };
}

export const coldStart: Figure = {
  name: 'cold-start',
  async measure() {
    const [app, bare] = [await deviceWith(DIST), await deviceWith(BARE)];
    const measures: Measure[] = [];
    for (const throttle of throttles()) {
      measures.push({
        what: 'offline cold start, empty shop',
        throttle: throttle.name,
        unit: 'ms',
        ...(await sideBySide(
          STARTS,
          () => app.device.coldStart(app.url, throttle),
          () => bare.device.coldStart(bare.url, throttle),
        )),
        target: { most: 1000 },
      });
    }
    measures.push({
      what: 'processor time of such a start, browser settled',
      unit: 'ms',
      ...(await sideBySide(
        STARTS,
        () => app.device.processorTime(app.url),
        () => bare.device.processorTime(bare.url),
      )),
    });
    await app.device.remove();
    await bare.device.remove();
    return measures;
  },
};
