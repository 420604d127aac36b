/** The server at rest and under small questions: the floor that its other figures stand on. */
import { Waxend } from '../../helpers/waxend.ts';
import type { Figure } from '../figure.ts';
import { load } from '../http-load.ts';
import { peakMemory } from '../memory.ts';

export const server: Figure = {
  name: 'server',
  async measure() {
    const shop = await Waxend.start();
    const { p50, p99 } = await load({ url: `${shop.url}/health`, connections: 8, requests: 4000 });
    const memory = peakMemory(shop.pid);
    await shop.remove();
    const what = 'health answered, 8 connections';
    return [
      { what: `${what}, p50`, unit: 'ms', ours: p50 },
      { what: `${what}, p99`, unit: 'ms', ours: p99, target: { most: 10 } },
      { what: 'server memory, empty shop, peak', unit: 'MB', ours: memory },
    ];
  },
};
