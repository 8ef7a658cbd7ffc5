import type { Segment, Technique } from '../../files/documents/documents.ts';
import type { Defined, Project } from '../../workspace/project.ts';
import { KeptBeside } from './dependencyCache.ts';
import type { Found, Rule } from './rule.ts';

/** What one rule found in an entry. */
export interface RuleFound {
  readonly rule: Rule;
  readonly found: Found;
}

/**
 * What rules find in each segment and technique of a route. Places are paths and not offsets, so that what stands
 * above an entry may change.
 */
export class KeptFinds {
  private readonly segments: KeptBeside<Defined<Segment>, readonly RuleFound[]>;
  private readonly techniques: KeptBeside<Defined<Technique>, readonly RuleFound[]>;

  constructor(rules: readonly Rule[]) {
    this.segments = new KeptBeside((segment, beside) =>
      foundBy(rules, (rule) => rule.inSegment?.(segment, beside)),
    );
    this.techniques = new KeptBeside((technique, beside) =>
      foundBy(rules, (rule) => rule.inTechnique?.(technique, beside)),
    );
  }

  /** What the rules find in the entries of a project's own route file. */
  in(project: Project): RuleFound[] {
    const { route, segments, ownTechniques } = project;
    const found: RuleFound[] = [];
    // The segments are all of one file.
    const own = segments[0]?.uri === route.uri ? segments : [];
    for (const kept of [this.segments.of(own, project), this.techniques.of(ownTechniques, project)])
      for (const { out } of kept) if (out.length > 0) found.push(...out);
    return found;
  }
}

function foundBy(
  rules: readonly Rule[],
  look: (rule: Rule) => readonly Found[] | undefined,
): readonly RuleFound[] {
  return rules.flatMap((rule) => look(rule)?.map((found) => ({ rule, found })) ?? []);
}
