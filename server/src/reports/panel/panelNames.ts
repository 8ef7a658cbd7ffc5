import { formatDate } from '../../text/calendar.ts';
import type { OthersFacts } from '../othersText.ts';
import type { Fact, Tick } from '../../protocol/panel/viewParts.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { standingFieldsOf, standingReportOf, type StandingsById } from '../standingReports.ts';

/** The names and entries of a route that a panel's texts need. */
export interface PanelNames {
  /** Names by id. */
  readonly techniques: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
  readonly pinned: ReadonlySet<string>;
  readonly leftOut: ReadonlySet<string>;
  /** Ids of the needs of each technique. */
  readonly needs: ReadonlyMap<string, readonly string[]>;
  /** What other runners found out about a technique, by its id; null where nothing is known of any. */
  readonly othersOf: (technique: string) => OthersFacts | null;
}

/** The name of a technique, as text for people. */
export function techniqueName(names: PanelNames, technique: string): string {
  return sanitizeForTerminal(names.techniques.get(technique) ?? technique);
}

/**
 * A technique with its name, where it stands and its entries in the week file.
 *
 * @throws RangeError if `standings` has no technique with that id
 */
export function techniqueInfo(names: PanelNames, standings: StandingsById, technique: string) {
  const standing = standingFieldsOf(standingReportOf(standings, technique).standing);
  const pinned = names.pinned.has(technique);
  return {
    technique,
    name: techniqueName(names, technique),
    ...standing,
    standingText: standing.standingText + (pinned ? ', pinned' : ''),
    pinned,
    leftOut: names.leftOut.has(technique),
  };
}

/**
 * Why a technique stands where it does, as a fact with a label.
 *
 * @throws RangeError if `standings` has no technique with that id
 */
export function standingFact(standings: StandingsById, technique: string): Fact {
  const { reason } = standingReportOf(standings, technique);
  return { label: 'Where it stands', text: sanitizeForTerminal(reason) };
}

export function segmentName(names: PanelNames, segment: string): string {
  return sanitizeForTerminal(names.segments.get(segment) ?? segment);
}

/** The possible numbers of days between two ticks. */
const daySteps = [1, 2, 7, 14, 28, 56, 91, 182, 364, 728, 1820, 3640];

/** Ticks at days along an axis: at most eight, from the first day to the last, as month and day (`11-23`). */
export function dayTicks(from: number, to: number): Tick[] {
  const step = daySteps.find((one) => (to - from) / one <= 8) ?? 7280;
  const ticks: Tick[] = [];
  for (let at = to - Math.floor((to - from) / step) * step; at <= to; at += step) {
    ticks.push({ at, label: formatDate(at).slice(5) });
  }
  return ticks;
}

/** Ticks at round numbers between two bounds, at most seven. */
export function numberTicks(from: number, to: number, label: (value: number) => string): Tick[] {
  const width = to - from;
  if (!(width > 0) || !Number.isFinite(width)) return [];
  const power = 10 ** Math.floor(Math.log10(width / 5));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => width / one <= 6) ?? 10 * power;
  const ticks: Tick[] = [];
  for (let i = Math.ceil(from / step); i * step <= to + 1e-9 * step; i++) {
    ticks.push({ at: i * step, label: label(i * step) });
  }
  return ticks;
}
