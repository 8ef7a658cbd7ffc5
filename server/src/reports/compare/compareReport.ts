import { formatDate } from '../../text/calendar.ts';
import type { Breakdown } from '../../model/run/breakdown.ts';
import type { Odds } from '../../model/run/odds.ts';
import { difference, orNull, seconds, share } from '../rounding.ts';

/** A number on both sides and by how much B is over A; null where a side has none. */
export interface Pair {
  readonly a: number | null;
  readonly b: number | null;
  readonly delta: number | null;
}

export interface PairOf extends Pair {
  readonly id: string;
}

/** Two routes held against each other: `compare --json` prints it and the editor shows it. Times in seconds. */
export interface CompareReport {
  readonly asOf: string;
  /** What A and B are, as they were asked for. */
  readonly a: string;
  readonly b: string;
  readonly finalTime: Pair;
  readonly target: number | null;
  readonly chance: Pair;
  readonly finishChance: Pair;
  readonly clockPerFinish: Pair;
  /** Expected seconds of each segment, in the order of B, with those of A alone behind. */
  readonly segments: readonly PairOf[];
  /** Seconds that each technique takes off the expected final time; null where it is not tried. */
  readonly techniques: readonly PairOf[];
}

/** One side of a comparison. */
export interface Side {
  readonly label: string;
  readonly odds: Odds;
  readonly parts: Breakdown;
}

/** @param asOfDay day number of the question */
export function compareReport(a: Side, b: Side, asOfDay: number): CompareReport {
  const pairOf = (of: (odds: Odds) => number | null): Pair => pair(of(a.odds), of(b.odds));
  return {
    asOf: formatDate(asOfDay),
    a: a.label,
    b: b.label,
    finalTime: pairOf(({ finalTime }) => finalTime),
    target: b.odds.target,
    chance: pairOf(({ chance }) => chance),
    finishChance: pairOf(({ finishChance }) => finishChance),
    clockPerFinish: pairOf(({ clockPerFinish }) => clockPerFinish),
    segments: pairs(
      a.parts.segments.map(({ segment, seconds: value }) => [segment, value]),
      b.parts.segments.map(({ segment, seconds: value }) => [segment, value]),
    ),
    techniques: pairs(
      a.parts.techniques.map(({ technique, seconds: value }) => [technique, value]),
      b.parts.techniques.map(({ technique, seconds: value }) => [technique, value]),
    ),
  };
}

function pair(a: number | null, b: number | null): Pair {
  return { a, b, delta: a === null || b === null ? null : b - a };
}

/** What is on one side only counts as nothing on the other. */
function pairs(
  a: readonly (readonly [string, number])[],
  b: readonly (readonly [string, number])[],
): PairOf[] {
  const before = new Map(a);
  const after = new Map(b);
  const ids = [...after.keys(), ...[...before.keys()].filter((id) => !after.has(id))];
  return ids.map((id) => {
    const [was, is] = [before.get(id) ?? null, after.get(id) ?? null];
    return { id, a: was, b: is, delta: (is ?? 0) - (was ?? 0) };
  });
}

/** The report with its keys in a fixed order and its numbers rounded. */
export function compareJson(report: CompareReport): CompareReport {
  const timed = (one: Pair): Pair => rounded(one, seconds, difference);
  const shared = (one: Pair): Pair => rounded(one, share, share);
  const each = (one: PairOf): PairOf => ({ id: one.id, ...timed(one) });
  return {
    asOf: report.asOf,
    a: report.a,
    b: report.b,
    finalTime: timed(report.finalTime),
    target: report.target,
    chance: shared(report.chance),
    finishChance: shared(report.finishChance),
    clockPerFinish: timed(report.clockPerFinish),
    segments: report.segments.map(each),
    techniques: report.techniques.map(each),
  };
}

function rounded(
  { a, b, delta }: Pair,
  of: (value: number) => number,
  between: (value: number) => number,
): Pair {
  return { a: orNull(of, a), b: orNull(of, b), delta: orNull(between, delta) };
}
