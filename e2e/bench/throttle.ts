/**
 * Ways to make this machine as slow as a phone. Chromium's own throttle slows the page's main thread and leaves the
 * rest of the browser (storage, network, the worker's start) at full speed; a quota from the kernel slows all of it.
 */
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import type { CDPSession } from '@playwright/test';

import { CHROMIUM, MADE } from '../helpers/paths.ts';

export interface Throttle {
  /** As it stands in the table. */
  name: string;
  /** The browser to start. */
  executable(): string;
  /** What to do to a new page. */
  slow(devtools: CDPSession): Promise<void>;
}

/** As fast as the machine is. */
export const NONE: Throttle = { name: 'none', executable: () => CHROMIUM, slow: async () => undefined };

const DEVTOOLS: Throttle = {
  name: 'DevTools 4x',
  executable: () => CHROMIUM,
  slow: async (devtools) => void (await devtools.send('Emulation.setCPUThrottlingRate', { rate: 4 })),
};

/** What the whole browser may use, in percent of one core. */
const SHARE = 50;
/** The kernel's accounting period, in microseconds. Short, so that a pause is not felt as one long stop. */
const PERIOD = 10_000;

const QUOTA: Throttle = {
  name: `browser at ${SHARE} % of a core`,
  executable: wrapped,
  slow: async () => undefined,
};

/** The throttles that this machine allows: a quota takes root and a kernel that hands out CPU time. */
export function throttles(): Throttle[] {
  const all = [NONE, DEVTOOLS];
  try {
    wrapped();
    return [...all, QUOTA];
  } catch (error) {
    console.warn(`no CPU quota on this machine (it takes root): ${String(error)}`);
    return all;
  }
}

/** A program that joins the slow group and then becomes Chromium, so that all its processes are born in it. */
function wrapped(): string {
  const group = slowGroup();
  const path = join(MADE, 'slow-chromium');
  mkdirSync(MADE, { recursive: true });
  writeFileSync(path, `#!/bin/sh\necho $$ > ${group}/cgroup.procs\nexec ${CHROMIUM} "$@"\n`);
  chmodSync(path, 0o755);
  return path;
}

/** The control group with the quota, in whichever form this kernel has. */
function slowGroup(): string {
  const quota = (SHARE * PERIOD) / 100;
  const unified = '/sys/fs/cgroup/cgroup.controllers';
  if (existsSync(unified) && readFileSync(unified, 'utf8').split(/\s+/).includes('cpu')) {
    const group = '/sys/fs/cgroup/waxend-bench';
    mkdirSync(group, { recursive: true });
    writeFileSync(join(group, 'cpu.max'), `${quota} ${PERIOD}`);
    return group;
  }
  const group = '/sys/fs/cgroup/cpu/waxend-bench';
  mkdirSync(group, { recursive: true });
  writeFileSync(join(group, 'cpu.cfs_period_us'), String(PERIOD));
  writeFileSync(join(group, 'cpu.cfs_quota_us'), String(quota));
  return group;
}
