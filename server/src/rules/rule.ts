import type { Path } from '../files/tree.ts';
import type { Assessment } from '../model/types.ts';
import type { Own } from '../workspace/runner.ts';
import type { Project } from '../workspace/project.ts';
import type { Written } from './written.ts';

export type Severity = 'error' | 'warning' | 'hint';

/** A place in a file: the value at a path, or the key that leads to it. */
export interface PlaceIn {
  readonly uri: string;
  readonly path: Path;
  readonly part: 'key' | 'value';
}

/** An edit that mends a finding: the place's text is replaced. */
export interface Fix extends PlaceIn {
  /** What the edit does, as a command: `Change to crate-vault`. */
  readonly title: string;
  readonly text: string;
}

/** What a rule found. Its code and severity are its rule's. */
export interface Found extends PlaceIn {
  /** What is wrong and what to do about it. */
  readonly message: string;
  readonly related?: readonly (PlaceIn & { readonly message: string })[];
  readonly fix?: Fix;
}

/** What a rule may look at. */
export interface RuleContext {
  readonly project: Project;
  /** The logs and week of the runner in question; all files where several are named and none is chosen. */
  readonly own: Own;
  /** Day number of today, where one is known: only then can a date be in the future. */
  readonly today: number | undefined;
  /** What the routes write, where it has been gathered already: several rules ask for it. */
  readonly written?: Written;
}

/** One check. It looks at a project and finds places; it never throws and never depends on anything else. */
export interface Rule {
  /** Stable, a plain description in kebab case. */
  readonly code: string;
  readonly severity: Severity;
  /** One sentence for lists: what it looks for. */
  readonly title: string;
  check(context: RuleContext): Found[];
}

/** A check that needs the model's estimates: it is made after a pause. */
export interface ForecastRule extends Omit<Rule, 'check'> {
  /** Ids of the techniques whose estimates it looks at: no others need be worked out. */
  concerns(context: RuleContext): Iterable<string>;
  check(context: RuleContext, assessment: ReadonlyMap<string, Assessment>): Found[];
}
