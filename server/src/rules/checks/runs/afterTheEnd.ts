import { formatTime } from '../../../text/time.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A run that ended in a segment, and yet has a time of that segment or of a later one. */
export const afterTheEnd: Rule = {
  code: 'after-the-end',
  severity: 'warning',
  title: 'A run with times after the place where it ended.',
  page: {
    why: 'Only one of the two can be true: either the run went on, and its ending makes the segment look more dangerous than it is, or the times belong to another run.',
    way: 'Correct `ended`, or take out the times after it.',
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
        const related = [{ uri, path: ending!.path, part: 'key' as const, message: 'The run ended here.' }];
        const late = times.find(({ id }) => (order.get(id) ?? -1) >= end);
        if (late) {
          const message = `This run ended in \`${ending!.segment}\`, before \`${late.id}\` was finished, but has a time for it. Correct \`ended\`, or take the time out.`;
          return [{ uri, path: late.path, part: 'key', message, related }];
        }
        if (total === undefined) return [];
        const message = `This run ended in \`${ending!.segment}\`, but has a final time of ${formatTime(total)}. Only a finished run has one: take \`total\` or \`ended\` out.`;
        return [{ uri, path: [...path, 'total'], part: 'key', message, related }];
      }),
    );
  },
};
