/**
 * Branches, tags, commits and what git makes of them by ~, ^ and @{…}. Nothing that could be read as an option, as a
 * range or as another file.
 */
const revisionPattern = /^(?!-)[\w./@{}~^+-]{1,200}$/;

/** Whether a text can be handed to git as a revision. */
export function isRevision(text: string): boolean {
  return revisionPattern.test(text) && !text.includes('..');
}
