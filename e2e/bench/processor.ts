/** The processor time of a browser. Other load on the machine changes it less than it changes the elapsed time. */
import { readFileSync, readdirSync } from 'node:fs';

import { eventually } from '../helpers/watching.ts';

/** The ms between two checks of whether a browser is idle. */
const LOOK_EVERY = 200;
/** A browser that uses less processor time than this between two checks is idle, in ms. */
const IDLE = 4;

/**
 * The processor time of all threads of the browser with this profile's folder so far, in ms. Threads that have ended
 * are not counted.
 */
export function processorTime(profile: string): number {
  let nanoseconds = 0;
  for (const pid of processesOf(profile)) {
    for (const thread of list(`/proc/${pid}/task`)) {
      nanoseconds += Number(read(`/proc/${pid}/task/${thread}/schedstat`).split(' ')[0]);
    }
  }
  if (nanoseconds === 0) throw new Error(`no browser runs on ${profile}, or this kernel does not say what it takes`);
  return nanoseconds / 1e6;
}

/** Waits until the browser with this profile's folder is idle. */
export async function settled(profile: string): Promise<void> {
  let before = processorTime(profile);
  await eventually('the browser has settled', async () => {
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY));
    const now = processorTime(profile);
    const idle = now - before < IDLE;
    before = now;
    return idle;
  });
}

/** The ids of the process that was started with this folder, and of its descendants. */
function processesOf(profile: string): Set<string> {
  const parents = new Map<string, string>();
  const family = new Set<string>();
  for (const pid of list('/proc').filter((name) => /^\d+$/.test(name))) {
    parents.set(pid, /^PPid:\s+(\d+)$/m.exec(read(`/proc/${pid}/status`))?.[1] ?? '');
    if (read(`/proc/${pid}/cmdline`).includes(profile)) family.add(pid);
  }
  for (let before = -1; before !== family.size; ) {
    before = family.size;
    for (const [pid, parent] of parents) if (family.has(parent)) family.add(pid);
  }
  return family;
}

/** Reads a file of a process; empty if the process has ended. */
function read(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}

function list(path: string): string[] {
  try {
    return readdirSync(path);
  } catch {
    return [];
  }
}
