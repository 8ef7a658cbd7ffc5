/** Something that took its time. */
export interface Took {
  readonly title: string;
  readonly seconds: number;
}

/**
 * Where the time went, as lines: each stage with its seconds and its share of all stages' time together, the longest
 * first, and what the whole took, which is less where stages ran side by side.
 *
 * @param wall seconds from the beginning to the end
 */
export function timeTable(took: readonly Took[], wall: number): string[] {
  const sum = took.reduce((total, { seconds }) => total + seconds, 0);
  const width = Math.max(...took.map(({ title }) => title.length), 'all, side by side'.length);
  const row = (title: string, seconds: string, share: string): string =>
    `${title.padEnd(width)}  ${seconds.padStart(7)}  ${share.padStart(5)}`;
  const rows = [...took]
    .sort((a, b) => b.seconds - a.seconds)
    .map(({ title, seconds }) =>
      row(title, seconds.toFixed(1), `${((100 * seconds) / (sum || 1)).toFixed(0)} %`),
    );
  return [
    row('stage', 'seconds', 'share'),
    ...rows,
    row('all, one by one', sum.toFixed(1), ''),
    row('all, side by side', wall.toFixed(1), ''),
  ];
}
