import { MemoCache } from '../incremental/memoCache.ts';
import type { Assessment } from '../model/core/results.ts';
import type { ProjectFile, Stray } from '../workspace/project.ts';
import { forecastRules, rules, wholeRouteCodes } from './catalogue.ts';
import { findingFromProblem, toFinding, type Finding, type ReadingLookup } from './engine/findings.ts';
import { EntryFindingCache } from './engine/entryFindingCache.ts';
import { gatherRecentSessions } from './lookup/recentPractice.ts';
import type { RuleContext } from './engine/rule.ts';
import { RouteIndex } from './lookup/routeIndex.ts';
import { declaredNames } from './lookup/declaredNames.ts';
import { suppressCascades } from './engine/suppressCascades.ts';
import { strayReports, unknownRoute } from './checks/logs/unknownRoute.ts';

/** What is kept of one check of a project for the next. */
export class CheckCache {
  readonly entryFindings = new EntryFindingCache(rules);
  readonly routeIndex = new RouteIndex();
  readonly memory = new MemoCache();
}

/**
 * What the fast rules find in a project. Each finding comes from one project only, also where several routes
 * share a file, so that the findings of all projects can be put together as they are.
 *
 * @param cache of earlier checks of the same project
 * @returns sorted by file, place and code
 */
export function checkProject(
  context: RuleContext,
  readings: ReadingLookup,
  cache = new CheckCache(),
): Finding[] {
  const { project } = context;
  const { routeIndex, memory } = cache;
  const indexed = { ...withRecentPractice(context), routeIndex, memory };
  const gathered = { ...indexed, declaredNames: declaredNames(indexed) };
  const findings = cache.entryFindings
    .reportsFor(project)
    .map(({ rule, found }) => toFinding(readings, rule, found));
  for (const rule of rules)
    for (const found of rule.check?.(gathered) ?? []) findings.push(toFinding(readings, rule, found));
  return sortFindings(suppressCascades(findings, project, wholeRouteCodes));
}

/** Ids of the techniques whose estimates the rules that need any look at. */
export function forecastTechniqueIds(context: RuleContext): Set<string> {
  const gathered = withRecentPractice(context);
  return new Set(forecastRules.flatMap((rule) => [...rule.techniqueIds(gathered)]));
}

/**
 * What the rules find that need the model's estimates.
 *
 * @param assessment by technique id, of those that `forecastTechniqueIds` names
 */
export function forecastFindings(
  context: RuleContext,
  assessment: ReadonlyMap<string, Assessment>,
  readings: ReadingLookup,
): Finding[] {
  const gathered = withRecentPractice(context);
  const findings = forecastRules.flatMap((rule) =>
    rule.check(gathered, assessment).map((found) => toFinding(readings, rule, found)),
  );
  return sortFindings(suppressCascades(findings, context.project, wholeRouteCodes));
}

/** Several rules look at the last sessions: they are gathered once. */
function withRecentPractice(context: RuleContext): RuleContext {
  return { ...context, recent: gatherRecentSessions(context) };
}

/** What reading a file found: its text, its keys and its values, without a look at any other file. */
export function readingFindings(file: Pick<ProjectFile, 'uri' | 'reading'>): Finding[] {
  return sortFindings(file.reading.problems.map((problem) => findingFromProblem(file.uri, problem)));
}

/** Logs, weeks and pools that belong to no route. */
export function strayFindings(strays: readonly Stray[], readings: ReadingLookup): Finding[] {
  return sortFindings(strays.flatMap(strayReports).map((found) => toFinding(readings, unknownRoute, found)));
}

/** Puts findings in the order in which they are shown: by file, place and code. */
export function sortFindings(findings: readonly Finding[]): Finding[] {
  const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return [...findings].sort(
    (a, b) => compare(a.uri, b.uri) || a.start - b.start || a.end - b.end || compare(a.code, b.code),
  );
}
