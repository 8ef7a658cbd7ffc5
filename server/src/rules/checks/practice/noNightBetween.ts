import {
  blockTechniqueRef,
  daysOf,
  groupByTechnique,
  minutesOf,
  recentSessions,
} from '../../lookup/recentPractice.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Minutes that would have made two blocks on two days. */
const minMinutes = 40;
/** From so many minutes of one technique in a day on, another rule reports it. */
const maxMinutes = 60;
/** How many days before or after it another day of practice is looked for, which could have taken a block. */
const around = 6;

/** Two blocks or more on one technique, all of them on one day. */
export const noNightBetween: Rule = {
  code: 'no-night-between',
  severity: 'hint',
  title: 'All blocks on a technique on one day, with no night between.',
  page: {
    why: 'After a night between two blocks more of the first one is kept: the same minutes on two days are worth more than on one.',
    way: 'Spread the blocks over the days that you practise on anyway.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25 }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: rope-swing, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
      - { technique: rope-swing, minutes: 25 }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: rope-swing, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: rope-swing, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
`,
    },
  },
  check(context) {
    const sessions = recentSessions(context);
    const days = daysOf(sessions);
    return [...groupByTechnique(sessions)].flatMap(([id, blocks]): RuleReport[] => {
      const last = blocks.at(-1)!;
      const minutes = minutesOf(blocks);
      if (!last.isProjectFile || blocks.length < 2 || minutes < minMinutes || minutes > maxMinutes) return [];
      if (daysOf(blocks).size > 1) return [];
      // A runner with only one evening has no other day for a block.
      if (![...days].some((day) => day !== last.day && Math.abs(day - last.day) <= around)) return [];
      const message = `${formatRounded(minutes)} minutes of \`${id}\`, all on one day. Spread over two days they would bring more, since more is kept after a night between them.`;
      return [{ ...blockTechniqueRef(last), message }];
    });
  },
};
