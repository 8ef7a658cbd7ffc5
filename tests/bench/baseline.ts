import { median } from './samples.ts';
import type { Row } from './table.ts';

/** A line of the table as it is saved. Ratios are saved, since they can be compared between machines. */
export interface SavedRow {
  readonly what: string;
  readonly against: string;
  /** The other program's median divided by Routewright's: more is better. */
  readonly ratio: number;
}

/** A ratio that fell by less than this share counts as noise. */
const noise = 0.15;

/** Numbers in a line's name, such as a version or a number of runs, do not distinguish it from another line. */
const nameOf = (text: string): string => text.replace(/[\d.,]+/g, '#');

/** The saved part of a table. Lines that continue the one above (`the same`, `… and`) also get its name. */
export function savedRows(rows: readonly Row[]): SavedRow[] {
  let head = '';
  return rows.flatMap(({ what, own, other, unit }) => {
    if (what !== 'the same' && !what.startsWith('…')) head = what;
    const ratio = median(other.sample) / median(own);
    // A count of 0 has no ratio.
    if (!Number.isFinite(ratio) || ratio === 0) return [];
    const named = what === head ? what : `${head}: ${what}`;
    return [{ what: named, against: other.name, ratio: unit === '%' ? 1 / ratio : ratio }];
  });
}

/** A sentence for each line whose ratio got worse, the worst first. */
export function worseRatios(before: readonly SavedRow[], now: readonly SavedRow[]): string[] {
  const key = ({ what, against }: SavedRow): string => `${nameOf(what)} | ${nameOf(against)}`;
  const known = new Map(before.map((one) => [key(one), one]));
  return now
    .flatMap((one) => {
      const old = known.get(key(one));
      return old && one.ratio < (1 - noise) * old.ratio ? [{ one, old }] : [];
    })
    .sort((a, b) => a.one.ratio / a.old.ratio - b.one.ratio / b.old.ratio)
    .map(
      ({ one, old }) =>
        `${one.what}, against ${one.against}: ${old.ratio.toPrecision(3)} × before, ${one.ratio.toPrecision(3)} × now`,
    );
}
