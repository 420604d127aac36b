/** What a phone has to fetch before the first screen. */
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
    const code = assetsOf().filter((path) => /^\/pkg\/app-.*\.(wasm|js)$/.test(path));
    const bytes = code.reduce((sum, path) => sum + sent(path), 0);
    return [{ what: 'wasm + JS, brotli', unit: 'KB', ours: bytes / 1024, target: { most: 350 } }];
  },
};
