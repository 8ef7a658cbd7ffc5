import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { fileKinds } from '../../server/src/files/fileKind.ts';

const root = join(import.meta.dirname, '../..');

/** A regular expression of the server's source, as it is written: a literal, or the call that makes one. */
export interface WrittenExpression {
  /** Path below server/src. */
  readonly file: string;
  readonly written: string;
}

/** Every regular expression that is written in the server's source, in the order of the files. */
export function writtenExpressions(folder = join(root, 'server/src')): WrittenExpression[] {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((file) => file.replaceAll('\\', '/'))
    .filter((file) => file.endsWith('.ts') && !file.startsWith('generated/'))
    .sort();
  return files.flatMap((file) => {
    const source = ts.createSourceFile(
      file,
      readFileSync(join(folder, file), 'utf8'),
      ts.ScriptTarget.ES2022,
    );
    return expressionsIn(source).map((written) => ({ file, written }));
  });
}

function expressionsIn(source: ts.SourceFile): string[] {
  const found: string[] = [];
  const walk = (node: ts.Node): void => {
    const made = ts.isNewExpression(node) || ts.isCallExpression(node) ? node.expression : undefined;
    if (ts.isRegularExpressionLiteral(node)) found.push(node.text);
    else if (made && ts.isIdentifier(made) && made.text === 'RegExp') found.push(node.getText(source));
    ts.forEachChild(node, walk);
  };
  walk(source);
  return found;
}

/** The patterns of the schemas: every value and key of a file is held against them. */
export function schemaPatterns(): string[] {
  const found = new Set<string>();
  for (const kind of ['common', ...fileKinds]) {
    const schema: unknown = JSON.parse(readFileSync(join(root, `schemas/${kind}.schema.json`), 'utf8'));
    const walk = (node: unknown): void => {
      if (typeof node !== 'object' || node === null) return;
      for (const [key, value] of Object.entries(node)) {
        if (key === 'pattern' && typeof value === 'string') found.add(value);
        if (key === 'patternProperties')
          for (const pattern of Object.keys(value as object)) found.add(pattern);
        walk(value);
      }
    };
    walk(schema);
  }
  return [...found];
}

/** Characters that mean something to a file or to a reader of lines. */
const common = [...' \t\n\r#:-"\'a1'];
const ends = ['\u0000', '\n'];
const longest = 1 << 15;

/**
 * Tries an expression on texts that repeat what it looks for, each twice as long as the one before, and gives the first
 * on which a search takes longer than `limit` milliseconds of processor time; undefined where none does. Of 32,768
 * characters a search that takes linear time needs some milliseconds, one that takes quadratic time some seconds.
 *
 * @param starts what may stand before the repeats, so that the beginning of the expression fits
 */
export function slowText(
  expression: RegExp,
  { starts = [''], limit = 150 }: { readonly starts?: readonly string[]; readonly limit?: number } = {},
): string | undefined {
  const search = new RegExp(expression.source, expression.flags.replace('y', ''));
  for (const start of starts) {
    for (const repeated of repeatsFor(search.source)) {
      for (const end of ends) {
        for (let count = 16; count * repeated.length <= longest; count *= 2) {
          const text = start + repeated.repeat(count) + end;
          const from = process.cpuUsage();
          if (search.global) text.replace(search, '');
          else search.test(text);
          const { user, system } = process.cpuUsage(from);
          if (user + system > limit * 1000)
            return `${JSON.stringify(start)} + ${JSON.stringify(repeated)} × ${count} + ${JSON.stringify(end)}`;
        }
      }
    }
  }
  return undefined;
}

/** One and two characters that an expression names, and common ones. */
function repeatsFor(source: string): Set<string> {
  const named = source
    .replaceAll(/\\u[0-9A-F]{4}|\\[pP]\{\w+\}|\\[a-zA-Z]|\(\?<?[:=!]|\{[\d,]+\}/g, '')
    .replaceAll(/[\\()[\]^$*+?{}.|]/g, '');
  const own = [...new Set([...named, ' ', 'a'])].slice(0, 10);
  const pairs = own.flatMap((one) => own.map((other) => one + other));
  return new Set([...common, ...own, ...pairs]);
}
