// The part of the report that says what changed routes gain or cost.
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { routewright } from './command.mjs';
import { code, count, fenced, folded, plain } from './markdown.mjs';

/** Each comparison takes some seconds. */
const most = 20;
const longest = 10_000;

/**
 * @param {{ root: string, commit: string, changes: import('./changes.mjs').Change[] }} found
 * @param {string[]} dayOption
 * @returns {Promise<string>} Markdown
 */
export async function comparisonsReport({ root, commit, changes }, dayOption) {
  if (changes.length === 0) return 'No route changed.';
  // An empty folder: no file in it can be called like a revision with a path.
  const empty = mkdtempSync(join(tmpdir(), 'routewright-action-'));
  try {
    const rows = [];
    const details = [];
    for (const change of changes.slice(0, most)) {
      const { row, detail } = await compared(change, root, commit, empty, dayOption);
      rows.push(row);
      if (detail) details.push(detail);
    }
    const more = changes.length > most ? [`\nAnd ${changes.length - most} more that were not compared.`] : [];
    const head = `${count(changes.length, 'route')} changed since ${code(commit.slice(0, 10))}. Final times are those expected of a run that reaches the end, with the logs and the week that this commit has.`;
    const table = ['| Route | Before | After | The change |', '| --- | --: | --: | --- |', ...rows, ...more];
    return [head, '', ...table, ...details.flatMap((one) => ['', one])].join('\n');
  } finally {
    rmSync(empty, { recursive: true, force: true });
  }
}

/**
 * @param {import('./changes.mjs').Change} change
 * @param {string} root
 * @param {string} commit
 * @param {string} folder
 * @param {string[]} dayOption
 * @returns {Promise<{ row: string, detail?: string }>}
 */
async function compared({ kind, path, before }, root, commit, folder, dayOption) {
  const name = code(path);
  if (kind !== 'changed') return { row: `| ${name} | · | · | ${kind} |` };
  const [former, now] = [join(root, before), join(root, path)];
  if (!existsSync(dirname(former)))
    return { row: `| ${name} | · | · | not compared: its former folder is gone |` };
  const sides = ['--', `${commit}:${former}`, now];
  const { exit, out, err } = await routewright(['compare', ...dayOption, ...sides], folder);
  if (exit !== 0) return { row: `| ${name} | · | · | not compared |`, detail: folded(name, fenced(err)) };
  const [, a = '·', b = '·', change = '·'] = /^Final time +(\S+) +(\S+) +(\S.*)$/m.exec(out) ?? [];
  const row = `| ${name} | ${plain(a)} | ${plain(b)} | ${plain(gainOrCost(change))} |`;
  return { row, detail: folded(name, fenced(withoutHead(out).slice(0, longest))) };
}

/**
 * @param {string} change of the final time, as the comparison writes it: `−2.3 s` where the route has become faster
 * @returns {string}
 */
export function gainOrCost(change) {
  if (/^[^\d]*0\.0 s$/.test(change)) return 'no difference';
  if (/^−\d/.test(change)) return `gains ${change.slice(1)}`;
  return /^\+\d/.test(change) ? `costs ${change.slice(1)}` : 'no expected time on one side';
}

/**
 * A comparison without its first lines, which name two paths of the runner's disk.
 *
 * @param {string} page
 * @returns {string}
 */
function withoutHead(page) {
  const start = page.indexOf('\nThe run\n');
  return start < 0 ? page : page.slice(start);
}
