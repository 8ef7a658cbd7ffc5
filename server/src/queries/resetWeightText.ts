/**
 * What rests on the runner's preference, in a sentence: how much a second lost to resets counts moves the break-even of
 * each technique whose misses end the run.
 *
 * @param resetWeight seconds of a finished run for each second lost to resets; null where no miss ends the run
 * @returns a sentence, or nothing where nothing rests on it
 * @example
 * restsOnWeight(0.01) // ' Its break-even rests on a second lost to resets counted as 0.01 s (clock_weight in the week file).'
 */
export function restsOnWeight(resetWeight: number | null): string {
  return resetWeight === null
    ? ''
    : ` Its break-even rests on a second lost to resets counted as ${formatWeight(resetWeight)} (clock_weight in the week file).`;
}

/** What a second lost to resets counts: `0.01 s`. */
export function formatWeight(resetWeight: number): string {
  return `${Number(resetWeight.toPrecision(2))} s`;
}
