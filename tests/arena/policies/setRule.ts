/**
 * Rules for who stays in the practice set of one who follows the ranking. The product's own is in productRule.ts; those here
 * are written apart from it, so that they stay what they are when it changes.
 */
import type { RankInput, StandingKind } from '../../../server/src/model/index.ts';
import type { RankingOrder } from '../../../server/src/model/rank/rankingOrder.ts';

/** A technique on the morning of a session. */
export interface SetRow {
  readonly technique: string;
  /** Seconds gained for an hour of practice, with that of its needs. */
  readonly rate: number;
  /** Whether trying it in a run pays, with the asked confidence. */
  readonly competent: boolean;
  /** Where it stands, as the product says. */
  readonly standing: StandingKind;
  /** Whether everything it needs is ready. */
  readonly open: boolean;
}

/** The question on the morning of a session. */
export interface SetMorning {
  /** Best first. */
  readonly rows: readonly SetRow[];
  /** The answer of the last session; those longest in the set first. */
  readonly members: readonly string[];
  /** Blocks that fit today. */
  readonly places: number;
  /** What the ranking was made from: route, logs, the day. */
  readonly input: RankInput;
  /** The ranking, with where each technique stands. */
  readonly order: RankingOrder;
  /** Day number of a technique's last practice; before the first, less than any day of the input. */
  readonly lastPractised: (technique: string) => number;
}

/**
 * The members from now on, those longest in the set first. Where they are more than today's places, those practised longest ago
 * are today's.
 */
export type SetRule = (morning: SetMorning) => readonly string[];

/** A rule by which the runner may be asked: `asked` says whether a technique left because the runner wanted it. */
export interface AskingSetRule {
  readonly choose: SetRule;
  readonly asked: (technique: string) => boolean;
}

/** Days without practice after which a technique no longer counts as part of the set. */
const forgottenAfter = 7;

/**
 * A competent member makes room for any better one; another member only for one that gains so much more that its own rate is below
 * `share` of it. On a day with fewer places than members those with the lowest rate leave.
 */
export function leavesBelow(share: number): SetRule {
  return ({ rows, members, places, input, lastPractised }) => {
    const kept = members.filter((id) => input.asOfDay - lastPractised(id) <= forgottenAfter);
    const set = membersOf(rows, kept);
    while (set.length > places) set.splice(set.indexOf(least(set, (row) => row.rate)), 1);
    return filled(set, rows, places, (row) => (row.competent ? row.rate : row.rate / share));
  };
}

/**
 * Only a competent member makes room, for a better one. Neither a short day nor a week without practice ends a membership; a
 * member whose needs are not ready waits in the set, without a place.
 */
export const leavesOnlyCompetent: SetRule = ({ rows, members, places }) => {
  const set = membersOf(rows, members);
  const present = new Set(set.map(({ technique }) => technique));
  const waiting = members.filter((id) => !present.has(id));
  const others = rows.filter(({ technique }) => !waiting.includes(technique));
  return [...filled(set, others, places, (row) => (row.competent ? row.rate : Infinity)), ...waiting];
};

/** The rows of the members that can be practised, in their order. */
function membersOf(rows: readonly SetRow[], members: readonly string[]): SetRow[] {
  const byId = new Map(rows.map((row) => [row.technique, row]));
  return members.flatMap((id) => {
    const row = byId.get(id);
    return row?.open === true ? [row] : [];
  });
}

function least(set: readonly SetRow[], by: (row: SetRow) => number): SetRow {
  return set.reduce((a, b) => (by(b) < by(a) ? b : a));
}

/** Fills free places, and exchanges the member with the least hold wherever one outside gains more than that. */
function filled(
  members: readonly SetRow[],
  rows: readonly SetRow[],
  places: number,
  hold: (row: SetRow) => number,
): string[] {
  const set = [...members];
  for (const row of rows) {
    if (!row.open || !(row.rate > 0) || set.includes(row)) continue;
    if (set.length >= places) {
      if (set.length === 0) break;
      const weakest = least(set, hold);
      if (hold(weakest) >= row.rate) continue;
      set.splice(set.indexOf(weakest), 1);
    }
    set.push(row);
  }
  return set.map(({ technique }) => technique);
}
