import type { RuleReport, Rule } from '../../engine/rule.ts';

/** An evening in which more runs ended than were started. */
export const runsDoNotAddUp: Rule = {
  code: 'runs-do-not-add-up',
  severity: 'warning',
  title: 'An evening with more runs ended than started.',
  page: {
    why: "An evening's endings say where runs are lost. More of them than runs make each segment look more dangerous than it is.",
    way: 'Correct `runs`, `finished` or `ended`.',
    failing: {
      runs: `runs:
  - { date: 2026-10-05, minutes: 90, runs: 10, finished: 2, ended: { harbor: { reset: 12 } } }
`,
    },
    passing: {
      runs: `runs:
  - { date: 2026-10-05, minutes: 90, runs: 14, finished: 2, ended: { harbor: { reset: 12 } } }
`,
    },
  },
  check({ project }) {
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ kind, path, started, finished, endings }): RuleReport[] => {
        const ended = endings.reduce((sum, { runs }) => sum + runs, finished ?? 0);
        if (kind === 'run' || ended <= started) return [];
        const message = `${started} runs were started, and ${ended} ended: ${finished ?? 0} finished and ${ended - (finished ?? 0)} before the end. Correct \`runs\`, \`finished\` or \`ended\`.`;
        return [{ uri, path: [...path, 'runs'], part: 'value', message }];
      }),
    );
  },
};
