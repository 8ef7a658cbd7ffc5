import type { Found, Rule } from './rule.ts';

/** An evening in which more runs ended than were started. */
export const runsDoNotAddUp: Rule = {
  code: 'runs-do-not-add-up',
  severity: 'warning',
  title: 'An evening with more runs ended than started.',
  check({ project }) {
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ kind, path, started, finished, endings }): Found[] => {
        const ended = endings.reduce((sum, { runs }) => sum + runs, finished ?? 0);
        if (kind === 'run' || ended <= started) return [];
        const message = `${started} runs were started, and ${ended} ended: ${finished ?? 0} finished and ${ended - (finished ?? 0)} before the end. Correct \`runs\`, \`finished\` or \`ended\`.`;
        return [{ uri, path: [...path, 'runs'], part: 'value', message }];
      }),
    );
  },
};
