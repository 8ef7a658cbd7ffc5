import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { cruise } from 'dependency-cruiser';
import type { ICruiseOptions, ICruiseResult, IForbiddenRuleType } from 'dependency-cruiser';

/** A room as the table in .dependency-cruiser.mjs names it: a folder, or one file, by its path. */
export interface Room {
  readonly room: string;
}

/** One file of the source, with the files of the same source that it imports. Paths are relative to the tree. */
export interface SourceFile {
  readonly path: string;
  readonly lines: number;
  readonly imports: readonly string[];
}

/** A broken rule of the table: an import that the room of `from` may not make. */
export interface BrokenRule {
  readonly rule: string;
  readonly from: string;
  readonly to: string;
}

/** The source of one revision: its files, and its table with what breaks it, where it has a table. */
export interface SourceTree {
  readonly files: readonly SourceFile[];
  readonly rooms: readonly Room[] | undefined;
  /** Broken rules other than the two that are counted by themselves: arrows up, and circles. */
  readonly broken: readonly BrokenRule[];
}

interface Config {
  readonly rooms?: readonly Room[];
  readonly default?: { readonly forbidden: IForbiddenRuleType[]; readonly options: ICruiseOptions };
}

const COUNTED = /^no circle of imports$|imports nothing that stands higher$/;

/** The table of a tree; empty where the tree has none. */
async function configOf(root: string): Promise<Config> {
  const file = join(root, '.dependency-cruiser.mjs');
  return existsSync(file) ? ((await import(pathToFileURL(file).href)) as Config) : {};
}

/**
 * Reads the imports of a tree.
 *
 * @param root the folder with `server/src` and, where there is one, `client`
 * @param folders which of its folders are read
 */
export async function readTree(root: string, folders: readonly string[]): Promise<SourceTree> {
  const { rooms, default: table } = await configOf(root);
  const { output } = await cruise(
    folders.filter((folder) => existsSync(join(root, folder))),
    {
      doNotFollow: { path: 'node_modules' },
      tsPreCompilationDeps: true,
      ...table?.options,
      tsConfig: undefined,
      baseDir: root,
      ...(table && { ruleSet: { forbidden: table.forbidden }, validate: true }),
    },
  );
  if (typeof output === 'string') throw new Error(output);
  return { files: filesOf(output, root, folders), rooms, broken: brokenOf(output) };
}

function filesOf({ modules }: ICruiseResult, root: string, folders: readonly string[]): SourceFile[] {
  const own = (path: string): boolean => folders.some((folder) => path.startsWith(`${folder}/`));
  return modules
    .filter(({ source, followable }) => own(source) && followable !== false && /\.[cm]?[jt]s$/.test(source))
    .map(({ source, dependencies }) => ({
      path: source,
      lines: readFileSync(join(root, source), 'utf8').split('\n').length - 1,
      imports: [...new Set(dependencies.map(({ resolved }) => resolved))].filter(own),
    }))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
}

function brokenOf({ summary }: ICruiseResult): BrokenRule[] {
  return summary.violations
    .filter(({ rule }) => !COUNTED.test(rule.name))
    .map(({ rule, from, to }) => ({ rule: rule.name, from, to }));
}
