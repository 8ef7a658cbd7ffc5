import { performance } from 'node:perf_hooks';

/** Milliseconds (or any other unit) of repeated measurements. */
export type Sample = readonly number[];

/** The value below which a share of a sample lies, interpolated between its neighbours; NaN for an empty sample. */
export function quantile(sample: Sample, share: number): number {
  const sorted = [...sample].sort((a, b) => a - b);
  const place = share * (sorted.length - 1);
  const below = sorted[Math.floor(place)] ?? NaN;
  const above = sorted[Math.ceil(place)] ?? NaN;
  return below + (above - below) * (place - Math.floor(place));
}

/** The middle value. */
export function median(sample: Sample): number {
  return quantile(sample, 0.5);
}

/** Measures several things by turns (A B A B …), so that a disturbance of the machine affects all of them. */
export async function byTurns<Name extends string>(
  rounds: number,
  measured: Readonly<Record<Name, (round: number) => Promise<Sample> | Sample>>,
): Promise<Record<Name, number[]>> {
  const names = Object.keys(measured) as Name[];
  const samples = Object.fromEntries(names.map((name) => [name, []])) as unknown as Record<Name, number[]>;
  for (let round = 0; round < rounds; round += 1) {
    for (const name of names) samples[name].push(...(await measured[name](round)));
  }
  return samples;
}

/** Milliseconds that a call takes, as a sample of one. */
export function timed(call: () => unknown): Sample {
  const from = performance.now();
  call();
  return [performance.now() - from];
}
