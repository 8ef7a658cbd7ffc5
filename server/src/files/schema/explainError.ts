import type { ErrorObject } from 'ajv';
import { formatCount, shortened } from '../../text/format.ts';
import { describeInvalidId } from './ids.ts';
import { closestWord, sameStem } from '../../text/closestWord.ts';
import type { FileKind } from '../fileKind.ts';
import type { Problem, Span } from '../yaml/problem.ts';
import { keysAt, schemaAt, type Schema } from './schema.ts';
import { locate, type Path, type Tree } from '../yaml/tree.ts';
import {
  exampleSentence,
  longestFor,
  describeExpectedFormat,
  patternProblemCode,
  describeTypes,
} from './schemaWording.ts';

/** A validator's error, with the path of the value that it is about. */
export interface LocatedError {
  readonly error: ErrorObject;
  /** Path of the value inside `tree`, indices as in the file. */
  readonly path: Path;
}

type ProblemFactory = (code: string, message: string, at?: Span) => Problem;

export interface ErrorContext {
  readonly kind: FileKind;
  /** Path of `tree` in the file: it gives the schema. */
  readonly at: Path;
  readonly tree: Tree | undefined;
  /** The span of the tree's key, where it has one. */
  readonly key?: Span | undefined;
  readonly value: unknown;
}

/** Whether another error explains the same mistake better: the branches of an \`if\`, and \`propertyNames\`. */
export function isExplainedByAnother({ keyword, propertyName }: ErrorObject): boolean {
  return keyword === 'if' || propertyName !== undefined;
}

/** Turns a validator's error that no other explains better into a problem with a place and advice. */
export function explainError(context: ErrorContext, { error, path }: LocatedError): Problem {
  const found = locate(context.tree, path);
  const place = path.length === 0 && context.key ? { ...found, key: context.key } : found;
  const schema = schemaAt(context.kind, [...context.at, ...path], context.value) ?? {};
  const name = path.at(-1) ?? context.at.at(-1);
  const label =
    typeof name === 'string' ? `\`${shortened(name)}\`` : `This ${(schema.title ?? 'entry').toLowerCase()}`;
  const span = place.exact && place.value.end > place.value.start ? place.value : (place.key ?? place.value);
  const params = error.params as Record<string, unknown>;
  const problem: ProblemFactory = (code, message, at = span) => ({
    start: at.start,
    end: at.end,
    code,
    message,
  });

  const written = place.tree?.type === 'scalar' ? place.tree.value : undefined;

  switch (error.keyword) {
    case 'required': {
      const missing = String(params.missingProperty);
      const kind = (schema.title ?? 'entry').toLowerCase();
      const wanted = schemaAt(context.kind, [...context.at, ...path, missing], context.value);
      const what = wanted?.description ? ` ${wanted.description}` : '';
      return problem('missing-key', `This ${kind} needs \`${missing}\`.${what}`, place.key ?? span);
    }
    case 'additionalProperties':
      return unknownKeyProblem(context, path, String(params.additionalProperty));
    case 'false schema':
      return problem(
        'unknown-key',
        `${label} does not go together with the other keys here. Remove it.`,
        place.key ?? span,
      );
    case 'type': {
      if (isUncountable(written)) return { ...outOfRangeProblem(problem, label, schema), code: 'wrong-type' };
      const empty = isEmpty(place.tree);
      const wanted = `must be ${describeTypes(params.type)}.${exampleSentence(schema)}`;
      return problem('wrong-type', empty ? `${label} has no value yet; it ${wanted}` : `${label} ${wanted}`);
    }
    case 'minLength':
      return problem(
        'wrong-value',
        `${label} is empty. Write it, or remove the key.${exampleSentence(schema)}`,
      );
    case 'pattern':
    case 'maxLength': {
      const longest = typeof written === 'string' ? longestFor(schema, written) : undefined;
      if (longest !== undefined)
        return problem('out-of-range', `${label} is longer than any run: it must be below ${longest}.`);
      return problem(
        patternProblemCode(schema),
        `${label} cannot be read${describeExpectedFormat(schema, writtenText(place.tree))}.${exampleSentence(schema)}`,
      );
    }
    case 'propertyNames': {
      const key = String(params.propertyName);
      const at = locate(context.tree, [...path, key]).key ?? span;
      return problem('invalid-id', describeInvalidId(key), at);
    }
    case 'enum':
      return notAllowedProblem(problem, label, params.allowedValues as readonly unknown[], place.tree);
    case 'minimum':
    case 'exclusiveMinimum':
    case 'maximum':
      return outOfRangeProblem(problem, label, schema);
    case 'minItems':
    case 'maxItems': {
      // A description that begins with a bracket shows the form of the list.
      const { description = 'a list', minItems, maxItems } = schema;
      const isCounted = minItems !== undefined && minItems === maxItems && !description.startsWith('[');
      return problem(
        'wrong-type',
        isCounted
          ? `${label} has ${countOf(place.tree)}, and must have ${minItems}.`
          : `${label} is written as ${description}`.replace(/\.?$/, '.'),
      );
    }
    default:
      return problem('wrong-type', `${label} ${error.message ?? 'is not valid'}.${exampleSentence(schema)}`);
  }
}

/** How many values a list has, in words. */
function countOf(tree: Tree | undefined): string {
  const list = tree?.type === 'alias' ? tree.target : tree;
  return formatCount(list?.type === 'list' ? list.items.length : 0, 'value');
}

/** A scalar as a text; empty for anything else. */
function writtenText(tree: Tree | undefined): string {
  return tree?.type === 'scalar' ? String(tree.value) : '';
}

function isEmpty(tree: Tree | undefined): boolean {
  return tree === undefined || (tree.type === 'scalar' && tree.value === null);
}

/** Whether a value is a number that nothing can be worked out with: one of hundreds of digits, or `.inf` or `.nan`. */
function isUncountable(written: unknown): boolean {
  return typeof written === 'number' && !Number.isFinite(written);
}

function unknownKeyProblem(context: ErrorContext, path: Path, key: string): Problem {
  const keys = keysAt(context.kind, [...context.at, ...path], context.value).map(([name]) => name);
  const owner = locate(context.tree, path).tree;
  const taken = new Set(owner?.type === 'map' ? owner.entries.map((entry) => String(entry.key.value)) : []);
  const span = locate(context.tree, [...path, key]).key ?? locate(context.tree, path).value;
  const glued = /^([^:]+):(?=.)/.exec(key)?.[1];
  if (glued !== undefined && keys.includes(glued)) {
    const text = key.replace(':', ': ');
    const message = `A space is missing after the colon: \`${shortened(text)}\`.`;
    return {
      ...toSpan(span),
      code: 'unknown-key',
      message,
      replacement: { text, title: `Change to \`${shortened(text)}\`` },
    };
  }
  const free = keys.filter((name) => !taken.has(name));
  const suggestion = closestWord(key, free) ?? sameStem(key, free);
  if (key === '<<') {
    const message =
      'YAML 1.2 has no merge keys (<<). Write the keys out, or take over a route with `extends`.';
    return { ...toSpan(span), code: 'unknown-key', message };
  }
  return {
    ...toSpan(span),
    code: 'unknown-key',
    message: suggestion
      ? `Unknown key \`${shortened(key)}\`. Did you mean \`${suggestion}\`?`
      : `Unknown key \`${shortened(key)}\`. Known here: ${keys.join(', ') || 'none'}. A key of your own begins with x-.`,
    ...(suggestion && { replacement: { text: suggestion, title: `Change to \`${suggestion}\`` } }),
  };
}

/** Only the span of what may be a whole node. */
function toSpan({ start, end }: Span): Span {
  return { start, end };
}

function notAllowedProblem(
  report: ProblemFactory,
  label: string,
  allowed: readonly unknown[],
  tree: Tree | undefined,
): Problem {
  const words = allowed.map(String);
  const written = writtenText(tree);
  const suggestion = closestWord(written, words);
  const problem = report(
    'wrong-value',
    `${label} must be one of ${words.join(', ')}.${suggestion ? ` Did you mean \`${suggestion}\`?` : ''}`,
  );
  return suggestion
    ? { ...problem, replacement: { text: suggestion, title: `Change to \`${suggestion}\`` } }
    : problem;
}

function outOfRangeProblem(report: ProblemFactory, label: string, schema: Schema): Problem {
  const { minimum, exclusiveMinimum, maximum } = schema;
  const low =
    minimum !== undefined
      ? `at least ${minimum}`
      : exclusiveMinimum !== undefined
        ? `more than ${exclusiveMinimum}`
        : '';
  const high = maximum !== undefined ? `at most ${maximum}` : '';
  const bounds = [low, high].filter(Boolean).join(' and ');
  if (schema.title === 'Difficulty') {
    return report(
      'difficulty-out-of-scale',
      `The difficulty scale goes from 1 (easy) to 10 (very hard). Choose a number on it.`,
    );
  }
  return report('out-of-range', `${label} must be ${bounds || describeTypes(schema.type)}.`);
}
