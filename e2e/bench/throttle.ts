/**
 * Ways to make this machine as slow as a phone. Chromium's own throttle slows the page's main thread but not the rest
 * of the browser (storage, network, the start of the worker); a CPU quota of the kernel slows all of it.
 */
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import type { CDPSession } from '@playwright/test';

import { CHROMIUM, MADE } from '../helpers/paths.ts';

export interface Throttle {
  /** The name in the table. */
  name: string;
  /** The browser to start. */
  executable(): string;
  /** Slows a new page. */
  slow(devtools: CDPSession): Promise<void>;
}

/** No throttle. */
export const NONE: Throttle = { name: 'none', executable: () => CHROMIUM, slow: async () => undefined };

const DEVTOOLS: Throttle = {
  name: 'DevTools 4x',
  executable: () => CHROMIUM,
  slow: async (devtools) => void (await devtools.send('Emulation.setCPUThrottlingRate', { rate: 4 })),
};

/** The CPU quota of the whole browser, in percent of one core. */
const SHARE = 50;
/** The period of the quota, in microseconds. It is short, so that the browser is not stopped for long at a time. */
const PERIOD = 10_000;

const QUOTA: Throttle = {
  name: `browser at ${SHARE} % of a core`,
  executable: wrapped,
  slow: async () => undefined,
};

/** The throttles that work on this machine. The quota needs root and a kernel that supports it. */
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

/**
 * The path of a program that joins the slow control group and then becomes Chromium, so that all its processes are in
 * the group.
 */
function wrapped(): string {
  const group = slowGroup();
  const path = join(MADE, 'slow-chromium');
  mkdirSync(MADE, { recursive: true });
  writeFileSync(path, `#!/bin/sh\necho $$ > ${group}/cgroup.procs\nexec ${CHROMIUM} "$@"\n`);
  chmodSync(path, 0o755);
  return path;
}

/** The folder of the control group with the quota, for either version of control groups. */
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
