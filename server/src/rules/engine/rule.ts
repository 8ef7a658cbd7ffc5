import type { MemoCache } from '../../incremental/memoCache.ts';
import type { FileKind } from '../../files/fileKind.ts';
import type { EntryContext } from '../lookup/dependencyCache.ts';
import type { LookupContext } from '../lookup/lookupContext.ts';
import type { Fix, SourceRef } from '../lookup/sourceRef.ts';
import type { Segment, Technique } from '../../files/documents/documents.ts';
import type { Assessment } from '../../model/core/results.ts';
import type { WithUri } from '../../workspace/project.ts';
import type { RecentSession } from '../lookup/recentPractice.ts';
import type { DeclaredNames } from '../lookup/declaredNames.ts';

export type Severity = 'error' | 'warning' | 'hint';

/** What a rule found. Its code and severity are its rule's. */
export interface RuleReport extends SourceRef {
  /** What is wrong and what to do about it. */
  readonly message: string;
  readonly related?: readonly (SourceRef & { readonly message: string })[];
  readonly fix?: Fix;
}

/** What a rule may look at. */
export interface RuleContext extends LookupContext {
  /** The names in the routes, where they have been gathered already: several rules use them. */
  readonly declaredNames?: DeclaredNames;
  /** The last sessions, gathered in the same way. */
  readonly recent?: readonly RecentSession[];
  /** What earlier checks of the same project worked out. */
  readonly memory?: MemoCache;
}

/**
 * Files of an example. By kind, without the line that names game and category, or the route; by name, as they are.
 * Where no route is given, the other files of an example belong to `exampleRoute` in `exampleFiles.ts`.
 */
export type Example = Readonly<Partial<Record<FileKind, string>>> & {
  readonly [name: `${string}.yaml`]: string;
};

/** What the documentation of a code says beyond its title. */
export interface CodePage {
  /** How it costs a runner time, or makes estimates wrong. */
  readonly why: string;
  /** What to do about it. */
  readonly way: string;
  /** Has findings of this code and of no other. */
  readonly failing: Example;
  /** A similar example without any finding. */
  readonly passing: Example;
  /** Date on which the examples are checked; left out: the day after the last entry. */
  readonly today?: string;
}

/**
 * One check. It looks at a project and finds places; it never throws and never depends on anything else. It looks at
 * the whole, or at one entry of the route's own file at a time, or at both. What it finds in an entry is kept as long
 * as the entry, and all that it looked up, is unchanged: so a report on an entry must not contain an edit with offsets
 * in the file.
 */
export interface Rule {
  /** Stable, a plain description in kebab case. */
  readonly code: string;
  readonly severity: Severity;
  /** One sentence for lists: what it looks for. */
  readonly title: string;
  readonly page: CodePage;
  /**
   * For a rule that relies on everything in the routes, numbers too. An entry with an error is missing there, so the
   * rule's findings are held back until every route is read to its end.
   */
  readonly needsWholeRoute?: true;
  check?(context: RuleContext): RuleReport[];
  checkSegment?(segment: WithUri<Segment>, context: EntryContext): RuleReport[];
  checkTechnique?(technique: WithUri<Technique>, context: EntryContext): RuleReport[];
}

/** A check that needs the model's estimates: it runs after a pause. */
export interface ForecastRule extends Omit<Rule, 'check' | 'checkSegment' | 'checkTechnique'> {
  /** Ids of the techniques whose estimates it looks at: no others need be worked out. */
  techniqueIds(context: RuleContext): Iterable<string>;
  check(context: RuleContext, assessment: ReadonlyMap<string, Assessment>): RuleReport[];
}
