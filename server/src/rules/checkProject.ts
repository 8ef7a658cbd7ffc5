import type { Assessment } from '../model/core/types.ts';
import type { AnyFile, Stray } from '../workspace/project.ts';
import { forecastRules, rules } from './catalogue.ts';
import { fromProblem, located, type Finding, type Readings } from './engine/findings.ts';
import { KeptFinds } from './engine/entryFindingCache.ts';
import { recentIn } from './lookup/recentPractice.ts';
import type { RuleContext } from './engine/rule.ts';
import { RouteMemory } from './engine/routeIndex.ts';
import { writtenOf } from './lookup/declaredNames.ts';
import { withoutUnsure } from './engine/suppressCascades.ts';
import { strayFound, unknownRoute } from './checks/practice/unknownRoute.ts';

/** What is kept of one check of a project for the next. */
export class CheckMemory {
  readonly finds = new KeptFinds(rules);
  readonly route = new RouteMemory();
}

/**
 * What the fast rules find in a project. Each finding comes from one project only, also where several routes
 * share a file, so that the findings of all projects can be put together as they are.
 *
 * @param memory of checks of the same project before
 * @returns sorted by file, place and code
 */
export function checkProject(
  context: RuleContext,
  readings: Readings,
  memory = new CheckMemory(),
): Finding[] {
  const { project } = context;
  const remembering = { ...withRecent(context), memory: memory.route };
  const gathered = { ...remembering, written: writtenOf(remembering) };
  const findings = memory.finds.in(project).map(({ rule, found }) => located(readings, rule, found));
  for (const rule of rules)
    for (const found of rule.check?.(gathered) ?? []) findings.push(located(readings, rule, found));
  return sorted(withoutUnsure(findings, project));
}

/** Ids of the techniques whose estimates the rules that need any look at. */
export function forecastConcerns(context: RuleContext): Set<string> {
  const gathered = withRecent(context);
  return new Set(forecastRules.flatMap((rule) => [...rule.concerns(gathered)]));
}

/**
 * What the rules find that need the model's estimates.
 *
 * @param assessment by technique id, of those in `forecastConcerns`
 */
export function forecastFindings(
  context: RuleContext,
  assessment: ReadonlyMap<string, Assessment>,
  readings: Readings,
): Finding[] {
  const gathered = withRecent(context);
  const findings = forecastRules.flatMap((rule) =>
    rule.check(gathered, assessment).map((found) => located(readings, rule, found)),
  );
  return sorted(withoutUnsure(findings, context.project));
}

/** Several rules look at the last sessions: they are gathered once. */
function withRecent(context: RuleContext): RuleContext {
  return { ...context, recent: recentIn(context) };
}

/** What reading a file found: its text, its keys and its values, without a look at any other file. */
export function readingFindings(file: Pick<AnyFile, 'uri' | 'reading'>): Finding[] {
  return sorted(file.reading.problems.map((problem) => fromProblem(file.uri, problem)));
}

/** Logs and weeks that belong to no route. */
export function strayFindings(strays: readonly Stray[], readings: Readings): Finding[] {
  return sorted(strays.flatMap(strayFound).map((found) => located(readings, unknownRoute, found)));
}

/** Puts findings in the order in which they are shown: by file, place and code. */
export function sorted(findings: readonly Finding[]): Finding[] {
  const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return [...findings].sort(
    (a, b) => compare(a.uri, b.uri) || a.start - b.start || a.end - b.end || compare(a.code, b.code),
  );
}
