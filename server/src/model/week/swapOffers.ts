/** Swaps that the runner may want to make: a member of the set for a technique that gains far more an hour. */
import type { Standing } from '../core/standing.ts';
import type { RankedCandidate, RankingOrder } from '../rank/rankingOrder.ts';
import { practiceSinceTakenUp, sessionDays } from '../standing/history.ts';

/** An offer: never made without the runner. Gains in seconds per hour of practice, needs and what they open included. */
export interface SwapOffer {
  readonly technique: string;
  readonly gainPerHour: number;
  /** The technique that would take its place. */
  readonly instead: string;
  readonly insteadGainPerHour: number;
}

/** When a swap is offered. */
export interface SwapRule {
  /** Practice days that a member has had at least, since it was taken up. */
  readonly days: number;
  /** Minutes of practice that it has had at least, since then. */
  readonly minutes: number;
  /** The technique that takes its place must gain more than so many times as much an hour. */
  readonly timesAsMuch: number;
}

/**
 * Early, and only for a large difference: the arena's curve has its knee there
 * (decisions/2026-11-29-when-a-swap-is-offered.md).
 */
export const swapRule: SwapRule = { days: 2, minutes: 30, timesAsMuch: 3 };

/**
 * The swaps to offer: only for what is being learned and had as much practice as the rule asks, since a comparison
 * after a single block changes from day to day. The weakest member is offered the best technique outside,
 * the next the second best, and so on.
 *
 * @param inSet techniques of the next session's set, and those that the runner pinned
 */
export function swapOffers(
  { ranked, prepared, standings }: RankingOrder,
  inSet: ReadonlySet<string>,
  pinned: ReadonlySet<string>,
  rule: SwapRule = swapRule,
): SwapOffer[] {
  const sessions = sessionDays(prepared);
  const kindOf = (id: string): Standing['kind'] | undefined => standings.get(id)?.kind;
  const hadItsTime = ({ candidate: { subject } }: RankedCandidate): boolean => {
    const practice = practiceSinceTakenUp(subject, sessions);
    return practice !== null && practice.days >= rule.days && practice.minutes >= rule.minutes;
  };
  const members = ranked
    .filter((entry) => kindOf(entry.candidate.id) === 'learning' && inSet.has(entry.candidate.id))
    .filter((entry) => !pinned.has(entry.candidate.id) && hadItsTime(entry))
    .sort((a, b) => a.setGainPerHour - b.setGainPerHour);
  const outside = ranked.filter(({ candidate: { id, openNeeds } }) => {
    const kind = kindOf(id);
    return !inSet.has(id) && openNeeds.length === 0 && (kind === 'not-begun' || kind === 'aside');
  });
  return members.flatMap((member, i): SwapOffer[] => {
    const other = outside[i];
    if (other === undefined || other.setGainPerHour <= rule.timesAsMuch * member.setGainPerHour) return [];
    return [
      {
        technique: member.candidate.id,
        gainPerHour: member.setGainPerHour,
        instead: other.candidate.id,
        insteadGainPerHour: other.setGainPerHour,
      },
    ];
  });
}
