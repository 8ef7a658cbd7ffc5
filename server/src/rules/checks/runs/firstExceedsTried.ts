import { useName } from '../../../files/schema/ids.ts';
import type { TechniqueAttempts } from '../../../files/documents/documents.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** First tries are some of all tries: there cannot be more of them, landed or not. */
export const firstExceedsTried: Rule = {
  code: 'first-exceeds-tried',
  severity: 'warning',
  title: 'More first tries than tries.',
  page: {
    why: 'Where first tries are given, they count in place of all tries: a mistake in them changes the landing rate directly.',
    way: 'Correct the count under `first` or the one under `tried`.',
    failing: {
      runs: `runs:
  - start: 2026-10-05T20:00
    total: 3:35
    tried: { rope-swing: [1, 2] }
    first: { rope-swing: [1, 3] }
`,
    },
    passing: {
      runs: `runs:
  - start: 2026-10-05T20:00
    total: 3:35
    tried: { rope-swing: [1, 2] }
    first: { rope-swing: [0, 1] }
`,
    },
  },
  check({ project }) {
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ tried, first }) => {
        if (first.length === 0) return [];
        const all = new Map(tried.map((one) => [nameOf(one), one]));
        return first.flatMap((one): RuleReport[] => {
          const whole = all.get(nameOf(one));
          if (!whole || (one.tries <= whole.tries && one.landed <= whole.landed)) return [];
          const message = `[${one.landed}, ${one.tries}] first tries of \`${nameOf(one)}\` are more than the [${whole.landed}, ${whole.tries}] under \`tried\`, which counts all of them. Correct one of the two.`;
          const place = { uri, path: whole.path, part: 'value' as const, message: 'All tries are here.' };
          return [{ uri, path: one.path, part: 'value', message, related: [place] }];
        });
      }),
    );
  },
};

function nameOf({ technique, use }: TechniqueAttempts): string {
  return useName(technique, use);
}
