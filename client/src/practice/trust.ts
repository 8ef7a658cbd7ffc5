import { l10n, workspace } from 'vscode';

/** A sentence, with a space before it, on what differs in an untrusted folder; empty where the folder is trusted. */
export function trustNote(): string {
  return workspace.isTrusted
    ? ''
    : l10n.t(
        ' In this folder, which is not trusted, logging works the same: it starts no program, and the file changes by edits that you see.',
      );
}
