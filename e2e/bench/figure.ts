/**
 * The figures of FIGURES.md, one file each in `figures/`. To add one: write a file that
 * default-exports a {@link Figure}, and list it in `bench.spec.ts`. `make bench` runs them all in one sitting and prints
 * one table; `make bench ONLY=name` runs those whose names contain `name`.
 *
 * A measure stands beside the same work done on the bare platform in the same sitting, so that a slow machine or a busy
 * one slows both.
 */

/** One line of the table. */
export interface Measure {
  /** What was measured, in words (`offline cold start, 500 pairs`). */
  what: string;
  /** How the machine was slowed; see `throttle.ts`. */
  throttle?: string;
  unit: 'ms' | 's' | 'KB' | 'MB';
  /** The app's figure; none where the platform alone is measured. */
  ours?: number;
  /** The bare platform's. */
  bare?: number;
  /** At most so much, in the unit, or at most so many times the bare figure. */
  target?: { most: number } | { timesBare: number };
}

export interface Figure {
  name: string;
  measure(): Promise<Measure[]>;
}

/** Whether a measure keeps to its target; `undefined` if it has none. */
export function kept({ ours, bare, target }: Measure): boolean | undefined {
  if (!target || ours === undefined) return undefined;
  if ('most' in target) return ours <= target.most;
  return bare === undefined ? undefined : ours <= target.timesBare * bare;
}
