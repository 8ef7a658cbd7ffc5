import { currentTechniqueId } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { listIds } from '../../lookup/words.ts';

/** A run that ended by a technique which is not tried where it ended. */
export const endedByAnother: Rule = {
  code: 'ended-by-another',
  severity: 'warning',
  title: 'A run ended by a technique that its segment does not use.',
  needsWholeRoute: true,
  page: {
    why: 'An ending says which miss ended a run, and where. One of the two is wrong.',
    way: 'Correct `at` or `by`, or add the use to the segment.',
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: rope-yard, why: miss, by: crate-vault } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: harbor, why: miss, by: crate-vault } }
`,
    },
  },
  check({ project }) {
    if (project.runs.length === 0) return [];
    const used = new Map(
      project.segments.map(({ id, uses }) => [
        id,
        new Set(
          uses.flatMap(({ technique, backup }) => [technique, ...(backup === undefined ? [] : [backup])]),
        ),
      ]),
    );
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ endings }) =>
        endings.flatMap(({ segment, by, path }): RuleReport[] => {
          const id = by === undefined ? undefined : currentTechniqueId(project, by);
          const here = used.get(segment);
          if (id === undefined || !here || here.has(id)) return [];
          const others = here.size > 0 ? `It uses ${listIds([...here])}.` : 'It uses no technique.';
          const message = `\`${segment}\` does not use \`${by}\`. ${others} Correct \`at\` or \`by\`, or add the use to the segment.`;
          return [{ uri, path: [...path, 'by'], part: 'value', message }];
        }),
      ),
    );
  },
};
