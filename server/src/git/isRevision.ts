/**
 * Branches, tags, commits and what git makes of them with ~, ^ and @{…}. Excludes every text that git could read as an
 * option, a range or another file.
 */
const revisionPattern = /^(?!-)[\w./@{}~^+-]{1,200}$/;

/** Whether a text can be passed to git as a revision. */
export function isRevision(text: string): boolean {
  return revisionPattern.test(text) && !text.includes('..');
}

/** Whether a revision is the whole name of a commit (SHA-1 or SHA-256), which never stands for another one. */
export function isCommitName(revision: string): boolean {
  return /^(?:[0-9a-f]{40}|[0-9a-f]{64})$/.test(revision);
}
