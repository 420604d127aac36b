/**
 * The figures of FIGURES.md, one file each in `figures/`. To add one: write a file that default-exports a {@link
 * Figure}, and list it in `bench.spec.ts`. `make bench` measures all of them in one run and prints one table; `make
 * bench ONLY=name` measures those whose names contain `name`.
 *
 * Beside each measure stands the time of the same work on the bare platform, taken in the same run: a slow or busy
 * machine slows both.
 */

/** One line of the table. */
export interface Measure {
  /** What was measured, in words (`offline cold start, 500 pairs`). */
  what: string;
  /** How the machine was slowed; see `throttle.ts`. */
  throttle?: string;
  unit: 'ms' | 's' | 'KB' | 'MB';
  /** The app's value; none where only the platform is measured. */
  ours?: number;
  /** The value of the bare platform. */
  bare?: number;
  /** The upper limit, either in the unit or as a multiple of the bare platform's value. */
  target?: { most: number } | { timesBare: number };
}

export interface Figure {
  name: string;
  measure(): Promise<Measure[]>;
}

/** Whether a measure meets its target; `undefined` if it has none. */
export function kept({ ours, bare, target }: Measure): boolean | undefined {
  if (!target || ours === undefined) return undefined;
  if ('most' in target) return ours <= target.most;
  return bare === undefined ? undefined : ours <= target.timesBare * bare;
}
