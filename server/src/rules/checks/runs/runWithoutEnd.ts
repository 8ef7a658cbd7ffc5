import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatCount } from '../../../text/format.ts';

/** A run whose times stop before the last segment, and that does not say why. */
export const runWithoutEnd: Rule = {
  code: 'run-without-end',
  severity: 'warning',
  title: 'A run with times of some segments that does not say how it ended.',
  page: {
    why: 'A run without `ended` counts as finished. One that was given up then makes finishing look more likely than it is.',
    way: 'Write where it ended and why, or the final time if it was finished.',
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, times: { harbor: 1:31.0 } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, times: { harbor: 1:31.0 }, ended: { at: rope-yard, why: reset } }
`,
    },
  },
  check({ project }) {
    if (project.runs.length === 0) return [];
    const segments = project.segments.map(({ id }) => id);
    const last = segments.at(-1);
    if (last === undefined) return [];
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ kind, endings, times, total, path }): RuleReport[] => {
        if (kind !== 'run' || endings.length > 0 || total !== undefined || times.length === 0) return [];
        const timed = new Set(times.map(({ id }) => id));
        // A time that is missing before the last one says nothing about how the run ended.
        if (timed.has(last) || [...timed].some((id) => !segments.includes(id))) return [];
        const furthest = segments.findLastIndex((id) => timed.has(id));
        const next = segments[furthest + 1]!;
        const message = `This run has times of ${formatCount(timed.size, 'segment')} out of ${segments.length} and counts as finished. If it ended early, write \`ended: { at: ${next}, why: reset }\` (or \`death\`, \`miss\`); if it was finished, its \`total\`.`;
        return [{ uri, path: [...path, 'times'], part: 'key', message }];
      }),
    );
  },
};
