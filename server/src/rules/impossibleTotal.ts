import type { Run } from '../files/documents.ts';
import { formatTime } from '../files/time.ts';
import type { Project } from '../workspace/project.ts';
import type { Found, Rule, RuleContext } from './rule.ts';

/** Seconds by which rounded segment times may miss their total. */
const rounding = 0.5;
/** Standard deviations below its usual time that a whole run may be: about one run in 30,000 is further off. */
const luckiest = 4;

/** A final time that cannot be the run's. */
export const impossibleTotal: Rule = {
  code: 'impossible-total',
  severity: 'warning',
  title: 'A final time that does not fit the run or the route.',
  check(context) {
    const { project } = context;
    if (project.runs.length === 0) return [];
    const segments = new Set(project.segments.map(({ id }) => id));
    const fastest = fastestRun(context);
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap((run): Found[] => {
        const message = run.total === undefined ? undefined : whyNot(run, run.total, segments, fastest);
        return message === undefined ? [] : [{ uri, path: [...run.path, 'total'], part: 'value', message }];
      }),
    );
  },
};

function whyNot(run: Run, total: number, segments: ReadonlySet<string>, fastest: number): string | undefined {
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

/** Seconds of a run in which everything lands and luck is as good as it gets. */
function fastestRun({ project, own }: RuleContext): number {
  const ownTimes = new Map(own.week?.document.times.map((time) => [time.id, time]));
  let seconds = 0;
  let variance = 0;
  for (const segment of project.segments) {
    const mine = ownTimes.get(segment.id);
    const usual = Math.min(segment.time, mine?.time ?? segment.time);
    const gifts = segment.luck.reduce((sum, { adds }) => sum + Math.max(0, -adds), 0);
    seconds += Math.max(0, usual - mostSaved(project, segment.uses) - gifts);
    variance += Math.max(segment.spread, mine?.spread ?? 0) ** 2;
  }
  return Math.max(0, seconds - luckiest * Math.sqrt(variance));
}

/** What a segment's techniques save together, each at the upper end of its range. */
function mostSaved(project: Project, uses: Project['segments'][number]['uses']): number {
  return uses.reduce((sum, use) => {
    const technique = project.techniques.get(use.technique);
    const saves = technique && (use.saves ?? technique.saves);
    return saves ? sum + saves.mean + 2 * saves.sd : sum;
  }, 0);
}
