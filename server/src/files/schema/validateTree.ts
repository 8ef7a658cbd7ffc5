import type { ErrorObject } from 'ajv';
import type { Validator } from '../../generated/validators.js';
import { explainError, isExplainedByAnother, type ErrorContext, type LocatedError } from './explainError.ts';
import type { FileKind } from '../fileKind.ts';
import type { Problem, Span } from '../yaml/problem.ts';
import { entryOf, locate, type Path, type Tree } from '../yaml/tree.ts';
import { originalIndex, toValue } from '../yaml/value.ts';

/** A checked part of a file: the data that fits its schema, and the problems of what had to be left out. */
export interface ValidationResult {
  /** Undefined where not even the required keys are there. */
  readonly value: unknown;
  readonly problems: readonly Problem[];
}

/** The most rounds of validation. Each drops at least one node of the tree, usually all that are wrong. */
const maxRounds = 30;

/**
 * Checks a tree against its schema. Whatever does not fit is reported and left out, so that the value that comes back
 * has the type the schema promises: a wrong optional value is dropped, an object without a required one too.
 *
 * @param at where the tree stands in a file
 * @param context the value of a file that has the tree's value at `at`
 * @param key the span of the tree's key, where it has one
 */
export function validateTree(
  kind: FileKind,
  at: Path,
  tree: Tree | undefined,
  validator: Validator,
  context: (value: unknown) => unknown,
  key?: Span,
): ValidationResult {
  // A file without a required key is still a file: what else it says is kept.
  const isFile = at.length === 0;
  const dropped = new Set<Tree>();
  let value = toValue(tree);
  let problems: Problem[] | undefined;
  for (let round = 0; round < maxRounds; round++) {
    if (validator(value)) return { value, problems: problems ?? [] };
    const errors = (validator.errors ?? []).map((error) => ({ error, path: pathInFile(error, value) }));
    const before = dropped.size;
    problems ??= explainErrors({ kind, at, tree, key, value: context(value) }, errors);
    for (const { error, path } of errors) {
      if (isFile && error.keyword === 'required' && path.length === 0) continue;
      dropInvalidNode(error, path, tree, dropped);
    }
    if (dropped.size === before) return { value: isFile ? value : undefined, problems };
    if (tree && dropped.has(tree)) return { value: undefined, problems };
    value = toValue(tree, dropped);
  }
  return { value: undefined, problems: problems ?? [] };
}

/** The most problems that are reported of one entry; the others are counted. */
const maxReported = 50;

/** The problems that explain the errors of an entry. */
function explainErrors(context: ErrorContext, errors: readonly LocatedError[]): Problem[] {
  const own = errors.filter(({ error }) => !isExplainedByAnother(error));
  const found = own.slice(0, maxReported).map((each) => ({ ...each, problem: explainError(context, each) }));
  const problems = uniqueProblems(dropConsequentialErrors(found));
  const more = own.length - found.length;
  const last = problems.at(-1);
  if (!last || more === 0) return problems;
  const others =
    more === 1
      ? '1 more mistake here, which is listed'
      : `${more.toLocaleString('en')} more mistakes here, which are listed`;
  const message = `${last.message} And ${others} once some of these are corrected.`;
  return [...problems.slice(0, -1), { ...last, message }];
}

/** A validator's error, and the problem that explains it. */
interface ExplainedError extends LocatedError {
  readonly problem: Problem;
}

/**
 * Leaves out the problems that only follow from a mistyped key: that the intended key is missing, or that a word which
 * cannot be a key has no value.
 */
function dropConsequentialErrors(found: readonly ExplainedError[]): Problem[] {
  const said = new Set<string>();
  const name = (path: Path, key: unknown) => JSON.stringify([...path, key]);
  for (const { problem, error, path } of found) {
    if (error.keyword === 'propertyNames') said.add(name(path, error.params.propertyName));
    if (error.keyword === 'additionalProperties' && problem.replacement)
      said.add(name(path, problem.replacement.text));
  }
  return found
    .filter(({ error, path }) =>
      error.keyword === 'required'
        ? !said.has(name(path, error.params.missingProperty))
        : error.keyword !== 'type' || !said.has(name(path.slice(0, -1), path.at(-1))),
    )
    .map(({ problem }) => problem);
}

/** The error's path with indices as in the file. */
function pathInFile(error: ErrorObject, value: unknown): Path {
  let here = value;
  return error.instancePath
    .split('/')
    .slice(1)
    .map((part) => {
      const key = part.replace(/~1/g, '/').replace(/~0/g, '~');
      const index = Array.isArray(here) ? Number(key) : undefined;
      const step = index === undefined ? key : originalIndex(here as unknown[], index);
      here = (here as Record<string, unknown> | undefined)?.[key];
      return step;
    });
}

function dropInvalidNode(error: ErrorObject, path: Path, tree: Tree | undefined, dropped: Set<Tree>): void {
  if (error.keyword === 'if') return;
  const params = error.params as Record<string, string | undefined>;
  const key = params.additionalProperty ?? params.propertyName ?? error.propertyName;
  const owner = locate(tree, path).tree;
  if (key === undefined) {
    const node = owner ?? keyOf(tree, path);
    if (node) dropped.add(node);
    return;
  }
  const entry = entryOf(owner, key);
  if (entry) dropped.add(entry.key);
}

/** The key whose value is not written: such a value is dropped by dropping its key. */
function keyOf(tree: Tree | undefined, path: Path): Tree | undefined {
  return entryOf(locate(tree, path.slice(0, -1)).tree, String(path.at(-1)))?.key;
}

function uniqueProblems(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter(({ start, end, message }) => {
    const key = `${start} ${end} ${message}`;
    return !seen.has(key) && seen.add(key);
  });
}
