import type { Technique } from '../files/documents.ts';
import type { Project } from '../workspace/project.ts';
import type { Beside, Found, Rule } from './rule.ts';

/** What one rule found in an entry. */
export interface RuleFound {
  readonly rule: Rule;
  readonly found: Found;
}

interface Kept {
  readonly uri: string;
  /** Every technique that was looked up, and what was found under its id. */
  readonly techniques: ReadonlyMap<string, Technique | undefined>;
  readonly found: readonly RuleFound[];
}

/**
 * What rules found in each segment and technique of a route, kept as long as the entry and all that was looked up
 * for it are the very same objects. Places are paths and not offsets, so that what stands above may change.
 */
export class KeptFinds {
  private readonly kept = new WeakMap<object, Kept>();

  /** What the rules find in the entries of a project's own route file. */
  in(project: Project, rules: readonly Rule[]): RuleFound[] {
    const { uri } = project.route;
    const found: RuleFound[] = [];
    for (const segment of project.segments) {
      if (segment.uri !== uri) continue;
      const look = (rule: Rule, beside: Beside) => rule.inSegment?.(segment, beside);
      for (const one of this.of(segment, project, rules, look)) found.push(one);
    }
    for (const technique of project.techniques.values()) {
      if (technique.uri !== uri) continue;
      const look = (rule: Rule, beside: Beside) => rule.inTechnique?.(technique, beside);
      for (const one of this.of(technique, project, rules, look)) found.push(one);
    }
    return found;
  }

  private of(
    entry: object,
    { route, techniques }: Project,
    rules: readonly Rule[],
    look: (rule: Rule, beside: Beside) => readonly Found[] | undefined,
  ): readonly RuleFound[] {
    const before = this.kept.get(entry);
    if (before?.uri === route.uri && stands(before.techniques, techniques)) return before.found;
    const lookedUp = new Map<string, Technique | undefined>();
    const technique = (id: string) => {
      const one = techniques.get(id);
      lookedUp.set(id, one);
      return one;
    };
    const beside: Beside = { uri: route.uri, technique };
    const found = rules.flatMap((rule) => look(rule, beside)?.map((one) => ({ rule, found: one })) ?? []);
    this.kept.set(entry, { uri: route.uri, techniques: lookedUp, found });
    return found;
  }
}

function stands(
  lookedUp: ReadonlyMap<string, Technique | undefined>,
  techniques: ReadonlyMap<string, Technique>,
): boolean {
  for (const [id, technique] of lookedUp) if (techniques.get(id) !== technique) return false;
  return true;
}
