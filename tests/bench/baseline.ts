import { median } from './samples.ts';
import type { Row } from './table.ts';

/** A line of the table as it is kept for later: ratios are kept, since they carry over from one machine to another. */
export interface Kept {
  readonly what: string;
  readonly against: string;
  /** The other's median over Routewright's: more is better. */
  readonly ratio: number;
}

/** A ratio that fell by less than this share is taken for noise. */
const noise = 0.15;

/** Digits in the middle of a name, such as a version or a number of runs, do not tell one line from another. */
const nameOf = (text: string): string => text.replace(/[\d.,]+/g, '#');

/** What of a table is kept. Lines that go on from the one above (`the same`, `… and`) are named by it as well. */
export function keep(rows: readonly Row[]): Kept[] {
  let head = '';
  return rows.flatMap(({ what, own, other, unit }) => {
    if (what !== 'the same' && !what.startsWith('…')) head = what;
    const ratio = median(other.sample) / median(own);
    // A count of nothing has no ratio.
    if (!Number.isFinite(ratio) || ratio === 0) return [];
    const named = what === head ? what : `${head}: ${what}`;
    return [{ what: named, against: other.name, ratio: unit === '%' ? 1 / ratio : ratio }];
  });
}

/** What got worse since, by ratio, worst first; a line of words each. */
export function worse(before: readonly Kept[], now: readonly Kept[]): string[] {
  const key = ({ what, against }: Kept): string => `${nameOf(what)} | ${nameOf(against)}`;
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
