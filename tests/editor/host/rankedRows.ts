/**
 * The rows of techniques in the list of *Rank Next Skill*, as they are written: without the row above techniques that are
 * practised together, and without the mark of its members.
 */
export function techniqueRows(rows: readonly string[]): string[] {
  return rows.filter((row) => !row.split('\n')[0]!.includes(' + ')).map((row) => row.replace(/^└ /, ''));
}
