/** Data that takes long to make is made once per run, by the first test that needs it, and copied for each test. */
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { eventually } from './watching.ts';

/** How long a test waits until another worker has made the data, in ms. */
const MAKING = 150_000;

/** The environment variable with which the workers learn this run's folder. */
const FOLDER = 'WAXEND_PREPARED';

/**
 * Playwright's global set-up: makes a folder for this run and deletes it at the end, so that data is never used by a
 * later version.
 */
export default async function begin(): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'waxend-prepared-'));
  process.env[FOLDER] = folder;
  return () => rm(folder, { recursive: true, force: true });
}

/** The folder with this name, which `make` fills once per run. A call while it is being filled waits. */
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
      // The tests that wait for it then try to make it themselves, and get the error too.
      await rm(draft, { recursive: true, force: true });
      await rm(begun, { recursive: true, force: true });
      throw error;
    }
  };
  await eventually(`${name} is prepared`, look, undefined, MAKING);
  return ready;
}

/** Whether this is the first call: creating a folder succeeds only once. */
async function isFirst(begun: string): Promise<boolean> {
  return mkdir(begun).then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') return false;
      throw error;
    },
  );
}
