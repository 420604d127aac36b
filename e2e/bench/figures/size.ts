/** How much a phone has to download before the first screen, and soon after it. */
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';

import { assetsOf } from '../../helpers/build.ts';
import { DIST } from '../../helpers/paths.ts';
import type { Figure } from '../figure.ts';

const sent = (path: string): number => {
  const file = join(DIST, path);
  return statSync(existsSync(`${file}.br`) ? `${file}.br` : file).size;
};

export const size: Figure = {
  name: 'size',
  async measure() {
    const weight = (path: RegExp): number =>
      assetsOf().filter((asset) => path.test(asset)).reduce((sum, asset) => sum + sent(asset), 0) / 1024;
    return [
      { what: 'wasm + JS of the first screen, brotli', unit: 'KB', ours: weight(/^\/pkg\/(app|link)-.*\.(wasm|js)$/), target: { most: 350 } },
      { what: 'wasm of the other screens, brotli', unit: 'KB', ours: weight(/^\/pkg\/piece-/) },
    ];
  },
};
