import type { Segment, Technique } from '../../files/documents/documents.ts';
import type { WithUri, Project } from '../../workspace/project.ts';
import { DependencyCache } from '../lookup/dependencyCache.ts';
import type { RuleReport, Rule } from './rule.ts';

/** What one rule found in an entry. */
export interface RuleAndReport {
  readonly rule: Rule;
  readonly found: RuleReport;
}

/**
 * What rules find in each segment and technique of a route. Places are paths and not offsets, so that what stands
 * above an entry may change.
 */
export class EntryFindingCache {
  private readonly segments: DependencyCache<WithUri<Segment>, readonly RuleAndReport[]>;
  private readonly techniques: DependencyCache<WithUri<Technique>, readonly RuleAndReport[]>;

  constructor(rules: readonly Rule[]) {
    this.segments = new DependencyCache((segment, context) =>
      reportsOf(rules, (rule) => rule.checkSegment?.(segment, context)),
    );
    this.techniques = new DependencyCache((technique, context) =>
      reportsOf(rules, (rule) => rule.checkTechnique?.(technique, context)),
    );
  }

  /** What the rules find in the entries of a project's own route file. */
  reportsFor(project: Project): RuleAndReport[] {
    const { route, segments, ownTechniques } = project;
    const found: RuleAndReport[] = [];
    // The segments are all of one file.
    const own = segments[0]?.uri === route.uri ? segments : [];
    for (const kept of [
      this.segments.resultsFor(own, project),
      this.techniques.resultsFor(ownTechniques, project),
    ])
      for (const { result: out } of kept) if (out.length > 0) found.push(...out);
    return found;
  }
}

function reportsOf(
  rules: readonly Rule[],
  look: (rule: Rule) => readonly RuleReport[] | undefined,
): readonly RuleAndReport[] {
  return rules.flatMap((rule) => look(rule)?.map((found) => ({ rule, found })) ?? []);
}
