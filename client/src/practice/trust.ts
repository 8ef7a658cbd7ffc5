import { l10n, workspace } from 'vscode';

/** What differs in a folder that is not trusted, in a sentence with a space before it; nothing where it is. */
export function trustNote(): string {
  return workspace.isTrusted
    ? ''
    : l10n.t(
        ' In this folder, which is not trusted, logging works the same: it starts no program, and the file changes by edits that you see.',
      );
}
