/** The product's own rule for who stays in the practice set: the one place where the arena calls it. */
import { choosePracticeSet } from '../../../server/src/model/week/practiceSet.ts';
import { daysSincePractice, setRetentionDays } from '../../../server/src/model/week/setFromLogs.ts';
import { swapOffers } from '../../../server/src/model/week/swapOffers.ts';
import type { SwapRule } from '../../../server/src/model/week/swapOffers.ts';
import type { AskingSetRule, SetRow } from './setRule.ts';

/**
 * As the planner has it: what is to be worked on again and what is being learned is in the set; a technique of the run that was
 * practised in the last days keeps its place while nothing better wants it; a free place is filled by the ranking, and by a
 * technique of the run only where that gains half as much again as each that is new.
 *
 * @param swaps when swaps are offered, all of which the runner makes: what is put aside stays out until a free place and the
 * ranking bring it back. Null: the runner makes none
 */
export function createProductRule(swaps: SwapRule | null): AskingSetRule {
  const putAside = new Set<string>();
  return {
    asked: (technique) => putAside.has(technique),
    choose: ({ rows, places, order, input }) => {
      const idle = daysSincePractice(input.logs.practice, input.asOfDay);
      const of = (...kinds: SetRow['standing'][]): SetRow[] =>
        rows.filter(({ standing, technique }) => kinds.includes(standing) && !putAside.has(technique));
      const isRecent = ({ technique }: SetRow): boolean =>
        (idle.get(technique) ?? Infinity) <= setRetentionDays;
      const choose = (): readonly string[] =>
        choosePracticeSet({
          candidates: rows.map((row) => ({ ...row, competent: row.standing === 'in-run' })),
          currentMembers: [...of('again'), ...of('learning'), ...of('in-run').filter(isRecent)].map(
            ({ technique }) => technique,
          ),
          size: places,
        }).members;
      const members = choose();
      for (const technique of members) putAside.delete(technique);
      const offers = swaps === null ? [] : swapOffers(order, new Set(members), new Set(), swaps);
      if (offers.length === 0) return members;
      for (const { technique } of offers) putAside.add(technique);
      const swapped = new Map(offers.map(({ technique, instead }) => [technique, instead]));
      return members.map((technique) => swapped.get(technique) ?? technique);
    },
  };
}
