import { formatTime } from '../../../text/time.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A run that ended in a segment, and yet has a time of that segment or of a later one. */
export const afterTheEnd: Rule = {
  code: 'after-the-end',
  severity: 'warning',
  title: 'A run with times behind the place where it ended.',
  page: {
    why: "It cannot be both: either the run went on, and the ending makes its segment look deadlier than it is, or the times are another run's.",
    way: 'Correct `ended`, or take the times behind it out.',
    failing: {
      runs: `runs:
  - start: 2026-10-05T20:00
    times: { harbor: 1:31.0, rope-yard: 2:06.4 }
    ended: { at: harbor, why: reset }
`,
    },
    passing: {
      runs: `runs:
  - start: 2026-10-05T20:00
    times: { harbor: 1:31.0 }
    ended: { at: rope-yard, why: reset }
`,
    },
  },
  check({ project }) {
    if (project.runs.length === 0) return [];
    const order = new Map(project.segments.map(({ id }, at) => [id, at]));
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ kind, endings, times, total, path }): RuleReport[] => {
        const [ending] = endings;
        const end = ending && order.get(ending.segment);
        if (kind !== 'run' || end === undefined) return [];
        const related = [
          { uri, path: ending!.path, part: 'key' as const, message: 'Where it ended is here.' },
        ];
        const late = times.find(({ id }) => (order.get(id) ?? -1) >= end);
        if (late) {
          const message = `This run ended in \`${ending!.segment}\`, before \`${late.id}\` was through, and has a time of it. Correct \`ended\`, or take the time out.`;
          return [{ uri, path: late.path, part: 'key', message, related }];
        }
        if (total === undefined) return [];
        const message = `This run ended in \`${ending!.segment}\`, and has a final time of ${formatTime(total)}. Only a finished run has one: take \`total\` or \`ended\` out.`;
        return [{ uri, path: [...path, 'total'], part: 'key', message, related }];
      }),
    );
  },
};
