import type { PracticePackage, RankRow } from '../../model/core/results.ts';
import { formatList } from '../../text/format.ts';

/** A part of a ranking as it is shown: one technique, or a package with its members beneath it. */
export interface RankingPart {
  /** Null where the part is one technique alone. */
  readonly package: PracticePackage | null;
  /** The rows with their places (1 is the first). */
  readonly rows: readonly { readonly row: RankRow; readonly place: number }[];
}

/** The rows of a ranking, those of one package together. */
export function rankingParts(rows: readonly RankRow[]): RankingPart[] {
  const parts: { package: PracticePackage | null; rows: { row: RankRow; place: number }[] }[] = [];
  rows.forEach((row, index) => {
    const placed = { row, place: index + 1 };
    const last = parts.at(-1);
    if (row.package !== null && last?.package?.members.includes(row.technique)) last.rows.push(placed);
    else parts.push({ package: row.package, rows: [placed] });
  });
  return parts;
}

/** The places that a part has: `8`, or `8–9`. */
export function placesText({ rows }: RankingPart): string {
  const [first, last] = [rows[0]!.place, rows.at(-1)!.place];
  return first === last ? String(first) : `${first}–${last}`;
}

/** The name of a package: its members, and what gets further practice in it. */
export function packageName({ members, further }: PracticePackage, nameOf: (id: string) => string): string {
  const names = members.map(nameOf).join(' + ');
  return further.length === 0 ? names : `${names}, with more of ${formatList(further.map(nameOf))}`;
}

/** Stands before the name of each member beneath its package. */
export const memberMark = '└ ';
