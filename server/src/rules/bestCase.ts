import type { Segment, Use } from '../files/documents.ts';
import type { Defined, Project } from '../workspace/project.ts';
import type { RuleContext } from './rule.ts';

/** Standard deviations below its usual time that a whole run may be: about one run in 30,000 is further off. */
const luckiest = 4;

/** A segment, or a whole run, in which everything lands and luck is as good as it gets. */
export interface BestCase {
  /** Seconds. */
  readonly seconds: number;
  /** Of the time, seconds squared. */
  readonly variance: number;
}

/** The best case of a segment, by the faster of the route's time and the runner's own. */
export function fastestSegment({ project, own }: RuleContext, segment: Defined<Segment>): BestCase {
  const mine = own.week?.document.times.find(({ id }) => id === segment.id);
  const usual = Math.min(segment.time, mine?.time ?? segment.time);
  const gifts = segment.luck.reduce((sum, { adds }) => sum + Math.max(0, -adds), 0);
  return {
    seconds: Math.max(0, usual - mostSaved(project, segment.uses) - gifts),
    variance: Math.max(segment.spread, mine?.spread ?? 0) ** 2,
  };
}

/** Seconds of a run than which hardly any is faster. */
export function fastestRun(context: RuleContext): number {
  let seconds = 0;
  let variance = 0;
  for (const segment of context.project.segments) {
    const best = fastestSegment(context, segment);
    seconds += best.seconds;
    variance += best.variance;
  }
  return Math.max(0, seconds - luckiest * Math.sqrt(variance));
}

/** What a segment's techniques save together, each at the upper end of its range. */
function mostSaved(project: Project, uses: readonly Use[]): number {
  return uses.reduce((sum, use) => {
    const technique = project.techniques.get(use.technique);
    const saves = technique && (use.saves ?? technique.saves);
    return saves ? sum + saves.mean + 2 * saves.sd : sum;
  }, 0);
}
