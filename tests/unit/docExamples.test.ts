import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { compileFunction } from 'node:vm';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { defaultConstants } from '../../server/src/model/core/constants.ts';

/**
 * Examples in docstrings are run. Below `@example` a line is a statement, or an expression with its value behind `//`,
 * written as code. An example sees what its own file exports and the default constants of the model; what a line declares is
 * there for those below it.
 */
const root = join(import.meta.dirname, '../..');
const source = join(root, 'server/src');

interface Example {
  readonly name: string;
  readonly lines: readonly string[];
}

/** The examples of a text: every block from `@example` to the next tag or the end of its docstring. */
function examplesIn(text: string): Example[] {
  return [...text.matchAll(/\/\*\*([\s\S]*?)\*\//g)].flatMap(([, comment = '']) => {
    const lines = comment.split('\n').map((line) => line.replace(/^\s*\* ?/, '').trimEnd());
    const starts = lines.flatMap((line, at) => (line.startsWith('@example') ? at : []));
    return starts.map((at) => {
      const rest = lines.slice(at + 1);
      const end = rest.findIndex((line) => line.startsWith('@'));
      const own = rest.slice(0, end < 0 ? undefined : end).filter((line) => line !== '');
      return { name: own.find((line) => line.includes(' // ')) ?? own[0] ?? 'no line', lines: own };
    });
  });
}

/** The checks of an example as one function body: it returns what each line gives and what it says it gives. */
function bodyOf({ lines }: Example): string {
  const body = lines.map((line) => {
    const at = line.lastIndexOf(' // ');
    return at < 0 ? line : `checks.push([(${line.slice(0, at)}), (${line.slice(at + 4)})]);`;
  });
  const { outputText } = ts.transpileModule(['const checks = [];', ...body].join('\n'), {
    compilerOptions: { target: ts.ScriptTarget.ESNext, module: ts.ModuleKind.ESNext },
  });
  return `${outputText}\nreturn checks;`;
}

function run(example: Example, exported: Readonly<Record<string, unknown>>): unknown[][] {
  const names = Object.keys(exported);
  const call = compileFunction(bodyOf(example), names) as (...values: unknown[]) => unknown[][];
  return call(...names.map((name) => exported[name]));
}

/** Numbers are held against each other to the digits written. */
function expectAlike(value: unknown, said: unknown): void {
  if (typeof value === 'number' && typeof said === 'number') {
    const decimals = (/\.(\d+)$/.exec(String(said))?.[1] ?? '').length;
    expect(value).toBeCloseTo(said, decimals === 0 ? 9 : decimals);
  } else expect(value).toEqual(said);
}

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && !name.startsWith('generated'))
  .sort()
  .map((name) => join(source, name))
  .map((path) => ({ path, examples: examplesIn(readFileSync(path, 'utf8')) }))
  .filter(({ examples }) => examples.length > 0);

describe.each(files.map((file) => [relative(source, file.path), file] as const))(
  '%s',
  (_name, { path, examples }) => {
    it.each(examples.map((example) => [example.name, example] as const))('%s', async (_line, example) => {
      const exported = (await import(pathToFileURL(path).href)) as Record<string, unknown>;
      const checks = run(example, { defaultConstants, ...exported });
      expect(checks.length).toBeGreaterThan(0);
      for (const [value, said] of checks) expectAlike(value, said);
    });
  },
);

describe('the check itself', () => {
  const inDocstring = (line: string): Example => examplesIn(`/**\n * @example\n * ${line}\n */`)[0]!;
  const holds = (line: string): void => {
    for (const [value, said] of run(inDocstring(line), { twice: (x: number) => 2 * x }))
      expectAlike(value, said);
  };

  it('finds examples in the model, the texts and what an edit does not touch', () => {
    const all = files.flatMap(({ examples }) => examples);
    expect(all.length).toBeGreaterThanOrEqual(15);
    for (const room of ['model', 'text', 'incremental'])
      expect(files.some(({ path }) => relative(source, path).startsWith(room))).toBe(true);
  });

  it('takes what is right and fails on what is wrong', () => {
    expect(() => holds('twice(2) // 4')).not.toThrow();
    expect(() => holds('twice(1 / 3) // 0.667')).not.toThrow();
    expect(() => holds('twice(2) // 5')).toThrow();
    expect(() => holds('twice(1 / 3) // 0.668')).toThrow();
    expect(() => holds("[twice(1)] // ['2']")).toThrow();
  });
});
