/** What takes long to make is made once in a run, by the first test that asks for it, and copied for each. */
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { eventually } from './watching.ts';

/** How long making something may take another worker, in ms. */
const MAKING = 150_000;

/** Names the folder of this run to its workers. */
const FOLDER = 'WAXEND_PREPARED';

/** Playwright's global set-up: a folder for this run, which goes with it. Nothing that is made outlives the version that made it. */
export default async function begin(): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'waxend-prepared-'));
  process.env[FOLDER] = folder;
  return () => rm(folder, { recursive: true, force: true });
}

/** The folder of this name, which `make` fills once in a run. Who asks meanwhile waits for it. */
export async function prepared(name: string, make: (folder: string) => Promise<void>): Promise<string> {
  const run = process.env[FOLDER];
  if (run === undefined) throw new Error('nothing is prepared outside of a run');
  const [ready, draft, begun] = [join(run, name), join(run, `${name}.draft`), join(run, `${name}.begun`)];
  const look = async (): Promise<boolean> => {
    if (existsSync(ready)) return true;
    if (!(await isFirst(begun))) return false;
    try {
      await mkdir(draft);
      await make(draft);
      await rename(draft, ready);
      return true;
    } catch (error) {
      // Whoever waits for it tries it too, and sees for itself what is wrong.
      await rm(draft, { recursive: true, force: true });
      await rm(begun, { recursive: true, force: true });
      throw error;
    }
  };
  await eventually(`${name} is prepared`, look, undefined, MAKING);
  return ready;
}

/** Whether nobody has begun yet: a folder can be made but once. */
async function isFirst(begun: string): Promise<boolean> {
  return mkdir(begun).then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') return false;
      throw error;
    },
  );
}
