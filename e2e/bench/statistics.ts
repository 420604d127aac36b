/** Order statistics of a handful of samples. */

/** The value below which this share (0 to 1) of the samples lies, by the nearest rank. */
export function percentile(samples: number[], share: number): number {
  if (samples.length === 0) throw new Error('no samples');
  const sorted = [...samples].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export const median = (samples: number[]): number => percentile(samples, 0.5);

/** Takes turns with two measurements, so that whatever else the machine does falls on both; returns both medians. */
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
