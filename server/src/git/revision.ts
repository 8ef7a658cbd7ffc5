import { basename, dirname } from 'node:path';
import { isRevision } from './isRevision.ts';
import { runGit, type GitResult } from './runGit.ts';

/** One commit that changed a file. */
export interface Commit {
  readonly revision: string;
  /** Its date, such as 2026-10-05. */
  readonly date: string;
  readonly subject: string;
}

/**
 * The content of a file at a revision: the stored bytes, without any filter, conversion or comparison that the
 * repository may have configured. Nothing is fetched.
 *
 * @param path absolute path of the file, in a folder that exists; git itself rejects a file outside the repository
 */
export function fileAtRevision(revision: string, path: string): Promise<GitResult> {
  if (!isRevision(revision))
    return Promise.resolve({ message: `${JSON.stringify(revision)} is no name of a git revision.` });
  return runGit(dirname(path), ['cat-file', 'blob', `${revision}:./${basename(path)}`]);
}

const maxCommits = 50;

/** The latest commits that changed a file, newest first; at most 50. */
export async function commitsChanging(
  path: string,
): Promise<readonly Commit[] | { readonly message: string }> {
  // rev-list and not log: what a repository configures for log, such as checking signatures with a program, does not
  // apply to it.
  const args = [
    'rev-list',
    `--max-count=${maxCommits}`,
    '--no-commit-header',
    '--format=%H%x09%cs%x09%s',
    'HEAD',
  ];
  const answer = await runGit(dirname(path), [...args, '--', `:(literal)${basename(path)}`]);
  if ('message' in answer) return answer;
  return answer.text.split('\n').flatMap((line) => {
    const [revision, date, ...subject] = line.split('\t');
    return revision && date ? [{ revision, date, subject: subject.join(' ') }] : [];
  });
}
