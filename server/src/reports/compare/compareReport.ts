import { formatDate } from '../../text/calendar.ts';
import type { Breakdown } from '../../model/run/breakdown.ts';
import type { Odds } from '../../model/run/odds.ts';
import { roundDifference, roundOrNull, roundSeconds, roundShare } from '../rounding.ts';

/** A number of route A, the same of route B, and B minus A; null where a side has none. */
export interface ComparedNumber {
  readonly a: number | null;
  readonly b: number | null;
  readonly delta: number | null;
}

export interface ComparedEntry extends ComparedNumber {
  readonly id: string;
}

/** The comparison of two routes: `compare --json` prints it and the editor shows it. Times in seconds. */
export interface CompareReport {
  readonly asOf: string;
  /** The names of A and B, as they were asked for. */
  readonly a: string;
  readonly b: string;
  readonly finalTime: ComparedNumber;
  readonly target: number | null;
  readonly chance: ComparedNumber;
  readonly finishChance: ComparedNumber;
  readonly clockPerFinish: ComparedNumber;
  /** Expected seconds of each segment, in the order of B; segments that only A has come last. */
  readonly segments: readonly ComparedEntry[];
  /** Seconds by which each technique shortens the expected final time; null where it is not tried. */
  readonly techniques: readonly ComparedEntry[];
}

/** One side of a comparison. */
export interface ComparisonSide {
  readonly label: string;
  readonly odds: Odds;
  readonly parts: Breakdown;
}

/** @param asOfDay day number of the morning that it is for */
export function compareReport(a: ComparisonSide, b: ComparisonSide, asOfDay: number): CompareReport {
  const pairOf = (of: (odds: Odds) => number | null): ComparedNumber => pair(of(a.odds), of(b.odds));
  return {
    asOf: formatDate(asOfDay),
    a: a.label,
    b: b.label,
    finalTime: pairOf(({ finalTime }) => finalTime),
    target: b.odds.target,
    chance: pairOf(({ chance }) => chance),
    finishChance: pairOf(({ finishChance }) => finishChance),
    clockPerFinish: pairOf(({ clockPerFinish }) => clockPerFinish),
    segments: pairById(
      a.parts.segments.map(({ segment, seconds: value }) => [segment, value]),
      b.parts.segments.map(({ segment, seconds: value }) => [segment, value]),
    ),
    techniques: pairById(
      a.parts.techniques.map(({ technique, seconds: value }) => [technique, value]),
      b.parts.techniques.map(({ technique, seconds: value }) => [technique, value]),
    ),
  };
}

function pair(a: number | null, b: number | null): ComparedNumber {
  return { a, b, delta: a === null || b === null ? null : b - a };
}

/**
 * Pairs the numbers of both sides by id. A number that a side does not have is null, and counts as 0 in the difference.
 */
function pairById(
  a: readonly (readonly [string, number])[],
  b: readonly (readonly [string, number])[],
): ComparedEntry[] {
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
  const timed = (one: ComparedNumber): ComparedNumber => rounded(one, roundSeconds, roundDifference);
  const shared = (one: ComparedNumber): ComparedNumber => rounded(one, roundShare, roundShare);
  const each = (one: ComparedEntry): ComparedEntry => ({ id: one.id, ...timed(one) });
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
  { a, b, delta }: ComparedNumber,
  of: (value: number) => number,
  between: (value: number) => number,
): ComparedNumber {
  return { a: roundOrNull(of, a), b: roundOrNull(of, b), delta: roundOrNull(between, delta) };
}
