import { runnerDayOf, formatDate } from '../../../text/calendar.ts';
import { dayStartsOf } from '../../lookup/ownFiles.ts';
import type { Rule } from '../../engine/rule.ts';
import { entryStarts } from '../../lookup/entryStarts.ts';

/** Something logged on a day still to come. */
export const dateInFuture: Rule = {
  code: 'date-in-future',
  severity: 'warning',
  title: 'An entry dated after today.',
  page: {
    why: 'An entry in the future is not counted until its day comes. Most often the year or the month is wrong.',
    way: 'Correct the date.',
    failing: {
      practice: `sessions:
  - start: 2027-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    today: '2026-10-06',
  },
  check(context) {
    const { today } = context;
    const dayStarts = dayStartsOf(context);
    return entryStarts(context.project)
      .flat()
      .filter(({ moment }) => runnerDayOf(moment, dayStarts) > today)
      .map(({ place }) => ({
        ...place,
        message: `This is dated after ${formatDate(today)}, the day that the findings are for. Correct the date; until that day comes it is not counted.`,
      }));
  },
};
