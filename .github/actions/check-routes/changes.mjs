// Which routes a revision and the current commit hold differently.
import { execFileSync } from 'node:child_process';
import { realpathSync } from 'node:fs';

/**
 * @typedef {object} Change
 * @property {'new' | 'removed' | 'changed'} kind
 * @property {string} path from the repository's root
 * @property {string} before the path at the base revision
 */

/**
 * The routes in a folder that differ from where this branch left the base. Only plumbing commands of git, which start
 * nothing that a repository configures; names come apart at NUL, and no shell sees them.
 *
 * @param {string} folder absolute
 * @param {string} base a revision
 * @returns {{ root: string, commit: string, changes: Change[] } | undefined} undefined where this clone lacks the base
 */
export function changedRoutes(folder, base) {
  const place = realpathSync(folder);
  const root = git(place, ['rev-parse', '--show-toplevel'])?.replace(/\n$/, '');
  const tip = base.startsWith('-')
    ? undefined
    : git(place, ['rev-parse', '--verify', '--quiet', `${base}^{commit}`])?.trim();
  if (root === undefined || tip === undefined) return undefined;
  // A shallow clone may not reach the commit where the two parted.
  const commit = git(place, ['merge-base', tip, 'HEAD'])?.trim() ?? tip;
  const options = ['-r', '-z', '--find-renames', '--name-status', '--no-commit-id'];
  const answer = git(place, ['--literal-pathspecs', 'diff-tree', ...options, commit, 'HEAD', '--', place]);
  return answer === undefined ? undefined : { root, commit, changes: readChanges(answer).filter(isRoute) };
}

/**
 * @param {Change} change
 * @returns {boolean}
 */
function isRoute({ path }) {
  return /\.route\.ya?ml$/i.test(path);
}

/**
 * @param {string} answer of `diff-tree -z --name-status`
 * @returns {Change[]}
 */
function readChanges(answer) {
  const words = answer.split('\0');
  /** @type {Change[]} */
  const changes = [];
  for (let at = 0; at + 1 < words.length;) {
    const status = words[at++] ?? '';
    const before = words[at++] ?? '';
    const path = status.startsWith('R') ? (words[at++] ?? '') : before;
    const kind = status === 'A' ? 'new' : status === 'D' ? 'removed' : 'changed';
    changes.push({ kind, path, before });
  }
  return changes;
}

/**
 * @param {string} folder
 * @param {string[]} args
 * @returns {string | undefined} undefined where git fails
 */
function git(folder, args) {
  const hardened = ['core.fsmonitor=false', 'core.hooksPath=/dev/null'].flatMap((setting) => ['-c', setting]);
  try {
    return execFileSync('git', ['--no-pager', ...hardened, '-C', folder, ...args], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      maxBuffer: 64 * 1024 * 1024,
      env: { ...process.env, GIT_NO_LAZY_FETCH: '1', GIT_OPTIONAL_LOCKS: '0', GIT_TERMINAL_PROMPT: '0' },
    });
  } catch {
    return undefined;
  }
}
