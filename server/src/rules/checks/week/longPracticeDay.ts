import { ownWeekDays } from '../../lookup/weekDays.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Minutes of practice in a day from which hands and wrists may suffer: common practice, no medical source. */
const longDay = 120;

/** A day of the week with more practice than is good for hands. */
export const longPracticeDay: Rule = {
  code: 'long-practice-day',
  severity: 'hint',
  title: 'A day with more than two hours set aside for practice.',
  page: {
    why: 'After two hours little more is learned that day, and hands and wrists tire.',
    way: 'Spread the minutes over more days. Pain is a reason to stop and to see a clinician.',
    failing: {
      week: `days: { sat: 240 }
`,
    },
    passing: {
      week: `days: { mon: 60, wed: 60, fri: 60, sat: 60 }
`,
    },
  },
  check({ project }) {
    return ownWeekDays(project).flatMap(({ uri, path, name, minutes }): RuleReport[] => {
      if (!(minutes > longDay)) return [];
      const message = `${minutes} minutes on ${name}: more than two hours of practice tire hands and wrists. Spread them over more days, or rest between blocks; pain is a reason to stop and to see a clinician.`;
      return [{ uri, path, part: 'value', message }];
    });
  },
};
