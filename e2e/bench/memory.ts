/** What a process has needed at most. */
import { readFileSync } from 'node:fs';

/** The largest resident size of a process so far, in MB, as the kernel counts it. */
export function peakMemory(pid: number): number {
  const kilobytes = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  if (kilobytes === undefined) throw new Error(`process ${pid} has no memory of its own`);
  return Number(kilobytes) / 1024;
}
