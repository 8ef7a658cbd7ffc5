import type { Run } from '../../../files/documents/documents.ts';
import { formatTime } from '../../../text/time.ts';
import { fastestPlausibleRun } from '../../lookup/bestCase.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Seconds by which rounded segment times may miss their total. */
const rounding = 0.5;

/** A final time that cannot be the run's. */
export const impossibleTotal: Rule = {
  code: 'impossible-total',
  severity: 'warning',
  title: 'A final time that does not fit the run or the route.',
  needsWholeRoute: true,
  page: {
    why: 'A final time that the run cannot have had distorts the odds and what is shown about your segments.',
    way: "Correct the total or a segment's time.",
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 2:35, times: { harbor: 1:30, rope-yard: 2:05 } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:35, times: { harbor: 1:30, rope-yard: 2:05 } }
`,
    },
  },
  check(context) {
    const { project } = context;
    if (project.runs.length === 0) return [];
    const segments = new Set(project.segments.map(({ id }) => id));
    const fastest = fastestPlausibleRun(context);
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap((run): RuleReport[] => {
        const message =
          run.total === undefined ? undefined : impossibilityOf(run, run.total, segments, fastest);
        return message === undefined ? [] : [{ uri, path: [...run.path, 'total'], part: 'value', message }];
      }),
    );
  },
};

function impossibilityOf(
  run: Run,
  total: number,
  segments: ReadonlySet<string>,
  fastest: number,
): string | undefined {
  const sum = run.times.reduce((all, { seconds }) => all + seconds, 0);
  if (sum > total + rounding) {
    return `The segments of this run take ${formatTime(sum)}, more than its total of ${formatTime(total)}. Correct the total or a time.`;
  }
  const timed = new Set(run.times.map(({ id }) => id));
  if (segments.size > 0 && timed.size >= segments.size && [...segments].every((id) => timed.has(id))) {
    return total - sum > rounding
      ? `The segments of this run add up to ${formatTime(sum)}, and its total is ${formatTime(total)}. Correct the total or a time.`
      : undefined;
  }
  return total < fastest - rounding
    ? `A total of ${formatTime(total)} is faster than this route can be: about ${formatTime(fastest)} with every technique landed. Correct the total, or the times and savings in the route.`
    : undefined;
}
