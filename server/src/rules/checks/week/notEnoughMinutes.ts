import { ownWeekDays } from '../../lookup/weekDays.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Minutes of the shortest block. */
const shortestBlock = 20;

/** A day with some minutes for practice, but too few for a block. */
export const notEnoughMinutes: Rule = {
  code: 'not-enough-minutes',
  severity: 'warning',
  title: 'A day with too few minutes for a block.',
  page: {
    why: 'A block takes 20 to 30 minutes. A day with fewer minutes stays empty in the plan.',
    way: 'Give the day at least 20 minutes, or add them to another day.',
    failing: {
      week: `days: { mon: 15, tue: 60 }
`,
    },
    passing: {
      week: `days: { mon: 25, tue: 50 }
`,
    },
  },
  check({ project }) {
    return ownWeekDays(project).flatMap(({ uri, path, name, minutes }): RuleReport[] => {
      if (!(minutes > 0 && minutes < shortestBlock)) return [];
      const message = `${minutes} minutes on ${name} are too few for a block, which takes 20 to 30. Give the day at least ${shortestBlock}, or add them to another day.`;
      return [{ uri, path, part: 'value', message }];
    });
  },
};
