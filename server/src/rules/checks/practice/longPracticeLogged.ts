import { formatDate } from '../../../text/calendar.ts';
import { longDays } from '../../lookup/longDays.ts';
import { recentSessions, sessionStartRef } from '../../lookup/recentPractice.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Minutes of practice in a day from which hands and wrists may suffer: common practice, no medical source. */
const maxMinutes = 120;

/** More than two hours of practice on one of the last days. */
export const longPracticeLogged: Rule = {
  code: 'long-practice-logged',
  severity: 'hint',
  title: 'More than two hours of practice logged on one day.',
  page: {
    why: 'After two hours little more is learned that day, and hands and wrists tire.',
    way: 'Spread the time over more days and rest between blocks. Pain is a reason to stop and to see a clinician.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:00
    blocks:
      - { technique: crate-vault, minutes: 50 }
      - { technique: rope-swing, minutes: 50 }
      - { technique: lamp-hop, minutes: 30 }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:00
    blocks:
      - { technique: crate-vault, minutes: 25 }
      - { technique: rope-swing, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
`,
    },
  },
  check(context) {
    return longDays(recentSessions(context), maxMinutes, ({ day }) => day).flatMap(
      ({ minutes, passedBy }): RuleReport[] => {
        if (!passedBy.isProjectFile) return [];
        const message = `${formatRounded(minutes)} minutes of practice on ${formatDate(passedBy.day)}. More than two hours in a day tire hands and wrists, and little more is learned: spread them over more days and rest between blocks. Pain is a reason to stop and to see a clinician.`;
        return [{ ...sessionStartRef(passedBy), message }];
      },
    );
  },
};
