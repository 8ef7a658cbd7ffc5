import { effectOf, missesOf } from '../../../queries/routeModel.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** A further try that costs more than landing it would bring. */
export const retryTooDear: Rule = {
  code: 'retry-too-dear',
  severity: 'hint',
  title: 'A further try that costs more than landing it brings back.',
  page: {
    why: 'A retry is worth its seconds only where landing brings back more. Otherwise going on after the first miss is faster.',
    way: 'Correct the seconds of the retry, or take it out.',
    failing: {
      route: `segments:
  - { id: rope-yard, time: 2:08, techniques: [{ use: rope-swing, retry: 12, max_tries: 3 }] }
techniques:
  rope-swing: { difficulty: 4, saves: 7.5, loses: 2.2 }
`,
    },
    passing: {
      route: `segments:
  - { id: rope-yard, time: 2:08, techniques: [{ use: rope-swing, retry: 3, max_tries: 3 }] }
techniques:
  rope-swing: { difficulty: 4, saves: 7.5, loses: 2.2 }
`,
    },
  },
  checkSegment({ uses }, context) {
    const { uri } = context;
    return uses.flatMap((use): RuleReport[] => {
      // What takes an item, or ends the run, is worth more than its seconds.
      if (use.retry === undefined || use.take !== undefined) return [];
      const technique = context.technique(use.technique);
      if (!technique) return [];
      const effect = effectOf(use, technique);
      const misses = missesOf(effect);
      if (misses.some(({ endsRun }) => endsRun)) return [];
      const loses = misses.reduce((sum, { chance, loses }) => sum + chance * loses, 0);
      const brings = (effect.saves?.mean ?? 0) + loses;
      if (use.retry < brings) return [];
      const message = `A further try costs ${formatRounded(use.retry)} s, and landing \`${use.technique}\` after a miss brings back ${formatRounded(brings)} s at most. Going on is faster: correct \`retry\`, or take it out.`;
      return [{ uri, path: [...use.path, 'retry'], part: 'value', message }];
    });
  },
};
