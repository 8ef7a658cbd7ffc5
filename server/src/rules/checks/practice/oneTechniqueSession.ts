import { minutesOf, recentSessions, sessionStartRef } from '../../lookup/recentPractice.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Minutes from which a session is long enough to change technique within it: two short blocks. */
const minMinutes = 40;
/** From so many minutes of one technique in a day on, another rule reports it. */
const maxMinutes = 60;

/** A session of two blocks or more that held one technique only, while others are being learned too. */
export const oneTechniqueSession: Rule = {
  code: 'one-technique-session',
  severity: 'hint',
  title: 'A long session on one technique only.',
  page: {
    why: 'Techniques that are practised in turns are remembered better than in one long block, and while one movement rests, another can be practised.',
    way: 'Change to another technique after 20 to 30 minutes, where there is one to practise.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25 }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: crate-vault, minutes: 25 }
      - { technique: crate-vault, minutes: 25 }
  - start: 2026-10-07T19:30
    blocks:
      - { technique: crate-vault, minutes: 25 }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25 }
      - { technique: crate-vault, minutes: 25 }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: crate-vault, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
`,
    },
  },
  check(context) {
    const sessions = recentSessions(context);
    const all = new Set(sessions.flatMap(({ blocks }) => blocks.map(({ id }) => id)));
    if (all.size < 2) return [];
    return sessions.flatMap((session): RuleReport[] => {
      const { blocks, minutes, isProjectFile } = session;
      const [first] = blocks;
      if (!isProjectFile || !first || minutes < minMinutes || minutes > maxMinutes) return [];
      const one = blocks.every(({ id }) => id === first.id);
      if (!one || minutesOf(blocks) < minutes) return [];
      const message = `All ${formatRounded(minutes)} minutes of this session went to \`${first.id}\`. Change to another technique after 20 to 30 minutes: both are then remembered better, and the hand rests.`;
      return [{ ...sessionStartRef(session), message }];
    });
  },
};
