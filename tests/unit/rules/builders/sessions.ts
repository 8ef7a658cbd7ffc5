import { standingOfChance } from '../../../helpers/standings.ts';
import type { Assessment } from '../../../../server/src/model/core/results.ts';
import { exampleRoute } from '../../../../server/src/rules/engine/exampleFiles.ts';
import { findingsOf } from '../marked.ts';

// Blocks of 20 to 30 minutes, four to six techniques in two hours, no more than an hour a day on one movement, better
// six days of 30 minutes than one sitting of three hours: P, common practice among runners.

/** One session. `crate-vault 25` is a block of 25 minutes; what follows a semicolon stands in it as well. */
export const session = (start: string, ...blocks: string[]) =>
  `  - start: ${start}\n    blocks:\n${blocks
    .map((block) => {
      const [, technique = '', minutes = '', rest = ''] = /^(\S+) (\S+?)(?:; (.*))?$/.exec(block) ?? [];
      return `      - { technique: ${technique}, minutes: ${minutes}${rest === '' ? '' : `, ${rest}`} }\n`;
    })
    .join('')}`;

/** A practice file of such sessions with the example route. */
export const log = (...sessions: string[]) => ({
  'a.route.yaml': exampleRoute,
  'a.practice.yaml': `route: a.route.yaml\nsessions:\n${sessions.join('')}`,
});

/** The codes of all findings in these files. */
export const codes = async (...given: Parameters<typeof findingsOf>) =>
  (await findingsOf(...given)).map(({ code }) => code);

/** A landing rate with its lower end; the range is as wide above the mean as below it, and ends at 1. */
export const rate = (mean: number, low: number) => ({ mean, low, high: Math.min(1, 2 * mean - low) });

/** What the model would say of one technique: how sure it is above break-even (0 to 1), and how it lands. */
export const says = (
  id: string,
  chance: number,
  practice = rate(0.97, 0.95),
): ReadonlyMap<string, Assessment> =>
  new Map([
    [
      id,
      {
        standing: standingOfChance(id, chance),
        practiceNow: practice,
        runNow: practice,
        breakEven: 0.3,
        resetWeight: null,
        chanceAboveBreakEvenNow: chance,
      },
    ],
  ]);
