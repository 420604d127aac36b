/** Order statistics of a handful of samples. */

/** The value below which this share (0 to 1) of the samples lies, by the nearest rank. */
export function percentile(samples: number[], share: number): number {
  if (samples.length === 0) throw new Error('no samples');
  const sorted = [...samples].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export const median = (samples: number[]): number => percentile(samples, 0.5);
