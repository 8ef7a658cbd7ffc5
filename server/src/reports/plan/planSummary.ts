/** A plan in a sentence or two: what to practise now, who joins, and what that saves. */
import { formatCount, formatList, formatRange } from '../../text/format.ts';
import { dayLabel, type PlanReport } from './planReport.ts';

/** The parts of a plan that its summary needs. */
export interface SummarisedPlan {
  /** The practice set of the first session. */
  readonly set: readonly string[];
  readonly days: readonly { readonly blocks: readonly { readonly technique: string }[] }[];
  /** Seconds saved on the last morning of the plan, with the name of that morning; undefined if the plan has none. */
  readonly last:
    | { readonly morning: string; readonly gain: number; readonly low: number; readonly high: number }
    | undefined;
}

/** Later days are not shown one by one, so nobody is said to join on them. */
const toldDays = 7;

/**
 * What to begin with, how many techniques join in the days that are shown, and what the whole plan saves.
 *
 * @example
 * planSummary({ set: ['vault'], days: [], last: undefined }, () => 'Crate vault') // 'Practise Crate vault each session.'
 */
export function planSummary({ set, days, last }: SummarisedPlan, nameOf: (id: string) => string): string {
  if (set.length === 0) return 'No practice is planned.';
  const sessions = days
    .slice(0, toldDays)
    .map(({ blocks }) => new Set(blocks.map(({ technique }) => technique)))
    .filter(({ size }) => size > 0);
  const joining = new Set(sessions.flatMap((session) => [...session].filter((id) => !set.includes(id))));
  const first = sessions.findIndex((session) => [...session].some((id) => joining.has(id)));
  const turns = turnsText(set, first < 0 ? sessions : sessions.slice(0, first));
  const names = formatList(set.map(nameOf));
  const gain =
    last !== undefined && last.gain > 0
      ? ` The plan is expected to save ${formatRange(last, 's')} a run by ${last.morning}.`
      : '';
  if (joining.size === 0) return `Practise ${names} ${turns === '' ? 'each session' : turns}.${gain}`;
  // Where nobody makes room for the first who joins, it waited for something else, such as what it needs.
  const makesRoom = set.some((id) => !sessions[first]!.has(id));
  const more = `${formatCount(joining.size, 'more joins', 'more join')} this week${makesRoom ? ' as places become free' : ''}`;
  return `Begin with ${names}${turns === '' ? '' : ` ${turns}`}; ${more}.${gain}`;
}

/** How the members share the sessions; empty where each session has all of them. */
function turnsText(set: readonly string[], sessions: readonly ReadonlySet<string>[]): string {
  if (sessions.every((session) => set.every((id) => session.has(id)))) return '';
  const most = sessions.reduce((top, { size }) => Math.max(top, size), 0);
  return most < set.length ? `in turn, up to ${most} a session` : 'in turn';
}

/** The same of a report. */
export function reportSummary({ set, days, forecast }: PlanReport, nameOf: (id: string) => string): string {
  const last = forecast.at(-1);
  return planSummary({ set, days, last: last && { ...last, morning: dayLabel(last.date) } }, nameOf);
}
