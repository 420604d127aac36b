/** The memory of a process. */
import { readFileSync } from 'node:fs';

/** The largest resident set size that a process has had, in MB, from the kernel. */
export function peakMemory(pid: number): number {
  const kilobytes = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  if (kilobytes === undefined) throw new Error(`process ${pid} has no memory of its own`);
  return Number(kilobytes) / 1024;
}
