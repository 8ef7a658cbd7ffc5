import { daysOf, groupByTechnique, recentSessions, sessionStartRef } from '../../lookup/recentPractice.ts';
import type { Rule } from '../../engine/rule.ts';
import { listIds } from '../../lookup/words.ts';

/** Fewer days of practice than this show no pattern. */
const minDays = 4;
/** More techniques than this are no practice set: four to six in two hours is common practice among runners. */
const maxTechniques = 6;

/** Many techniques, most of them touched on a single day. */
export const scatteredPractice: Rule = {
  code: 'scattered-practice',
  severity: 'hint',
  title: 'Many techniques begun, and most of them left after one day.',
  page: {
    why: 'The first blocks on a technique bring the least, and what is not practised again soon fades: with a set that changes each evening, all the time goes into beginnings.',
    way: 'Keep to the same four to six techniques until one is competent; `rank` says which.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [vault, swing, hop, kick, clip, roll, drop] }
techniques:
  vault: { difficulty: 3, saves: 3, loses: 1 }
  swing: { difficulty: 3, saves: 3, loses: 1 }
  hop: { difficulty: 3, saves: 3, loses: 1 }
  kick: { difficulty: 3, saves: 3, loses: 1 }
  clip: { difficulty: 3, saves: 3, loses: 1 }
  roll: { difficulty: 3, saves: 3, loses: 1 }
  drop: { difficulty: 3, saves: 3, loses: 1 }
`,
      practice: `sessions:
  - { start: 2026-10-05, blocks: [{ technique: vault, minutes: 25 }, { technique: swing, minutes: 25 }] }
  - { start: 2026-10-06, blocks: [{ technique: hop, minutes: 25 }, { technique: kick, minutes: 25 }] }
  - { start: 2026-10-08, blocks: [{ technique: clip, minutes: 25 }, { technique: roll, minutes: 25 }] }
  - { start: 2026-10-09, blocks: [{ technique: drop, minutes: 25 }, { technique: vault, minutes: 25 }] }
`,
    },
    passing: {
      practice: `sessions:
  - { start: 2026-10-05, blocks: [{ technique: crate-vault, minutes: 25 }, { technique: rope-swing, minutes: 25 }] }
  - { start: 2026-10-06, blocks: [{ technique: lamp-hop, minutes: 25 }, { technique: crate-vault, minutes: 25 }] }
  - { start: 2026-10-08, blocks: [{ technique: rope-swing, minutes: 25 }, { technique: lamp-hop, minutes: 25 }] }
  - { start: 2026-10-09, blocks: [{ technique: crate-vault, minutes: 25 }, { technique: rope-swing, minutes: 25 }] }
`,
    },
  },
  check(context) {
    const sessions = recentSessions(context);
    const last = sessions.findLast(({ isProjectFile }) => isProjectFile);
    if (!last || daysOf(sessions).size < minDays) return [];
    const blocks = groupByTechnique(sessions);
    const once = [...blocks].filter(([, list]) => daysOf(list).size === 1);
    if (blocks.size <= maxTechniques || once.length <= blocks.size / 2) return [];
    const message = `Of ${blocks.size} techniques practised in two weeks, ${once.length} had only one day: ${listIds(once.map(([id]) => id))}. The first blocks bring the least: keep to the same four to six until one is competent, and then add the next.`;
    return [{ ...sessionStartRef(last), message }];
  },
};
