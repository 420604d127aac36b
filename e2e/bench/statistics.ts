/** Order statistics of a few samples. */

/** The percentile at this share (0 to 1), by the nearest rank: always one of the samples. */
export function percentile(samples: number[], share: number): number {
  if (samples.length === 0) throw new Error('no samples');
  const sorted = [...samples].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export const median = (samples: number[]): number => percentile(samples, 0.5);

/** Measures two things alternately, so that other load on the machine affects both. Returns both medians. */
export async function sideBySide(
  times: number,
  ours: () => Promise<number>,
  bare: () => Promise<number>,
): Promise<{ ours: number; bare: number }> {
  const samples = { ours: [] as number[], bare: [] as number[] };
  for (let turn = 0; turn < times; turn += 1) {
    samples.ours.push(await ours());
    samples.bare.push(await bare());
  }
  return { ours: median(samples.ours), bare: median(samples.bare) };
}
