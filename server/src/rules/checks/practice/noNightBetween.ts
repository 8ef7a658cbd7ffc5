import { byTechnique, recentSessions, techniqueOf } from '../../lookup/recentPractice.ts';
import type { Found, Rule } from '../../engine/rule.ts';
import { rounded } from '../../lookup/words.ts';

/** Minutes that would have made two blocks on two days. */
const leastMinutes = 40;
/** Minutes of one technique in a day from which another rule speaks. */
const mostMinutes = 60;
/** Days around it in which another day of practice could have taken a block. */
const around = 6;

/** Two blocks or more on one technique, all of them on one day. */
export const noNightBetween: Rule = {
  code: 'no-night-between',
  severity: 'hint',
  title: 'All blocks on a technique on one day, with no night between.',
  page: {
    why: 'A night between two blocks lets more of the first stay: the same minutes on two days are worth more than on one.',
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
    const days = new Set(sessions.map(({ day }) => day));
    return [...byTechnique(sessions)].flatMap(([id, blocks]): Found[] => {
      const last = blocks.at(-1)!;
      const minutes = blocks.reduce((sum, block) => sum + block.minutes, 0);
      if (!last.ours || blocks.length < 2 || minutes < leastMinutes || minutes > mostMinutes) return [];
      if (blocks.some(({ day }) => day !== last.day)) return [];
      // Somebody with one evening has no other to spread over.
      if (![...days].some((day) => day !== last.day && Math.abs(day - last.day) <= around)) return [];
      const message = `${rounded(minutes)} minutes of \`${id}\`, all on one day. Spread over two days they would bring more, since a night between lets more of it stay.`;
      return [{ ...techniqueOf(last), message }];
    });
  },
};
