/** The product's own rule for who stays in the practice set: the one place where the arena calls it. */
import { setRetentionDays } from '../../../server/src/model/week/setFromLogs.ts';
import { choosePracticeSet } from '../../../server/src/model/week/practiceSet.ts';
import type { SetRow, SetRule } from './setRule.ts';

/**
 * As the planner has it: what is to be worked on again and what is being learned is in the set; a technique of the run that was
 * practised in the last days keeps its place while nothing better wants it; a free place is filled by the ranking, and never
 * by a technique of the run.
 */
export const productRule: SetRule = ({ rows, places, input, lastPractised }) => {
  const of = (...kinds: SetRow['standing'][]): SetRow[] =>
    rows.filter(({ standing }) => kinds.includes(standing));
  const recent = of('in-run').filter(
    ({ technique }) => input.asOfDay - lastPractised(technique) <= setRetentionDays,
  );
  return choosePracticeSet({
    candidates: rows.map((row) => ({ ...row, competent: row.standing === 'in-run' })),
    currentMembers: [...of('again'), ...of('learning'), ...recent].map(({ technique }) => technique),
    size: places,
  }).members;
};
