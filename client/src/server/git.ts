import { l10n, Uri, workspace, type Disposable } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { commitsChanging, fileAtRevision } from '../../../server/src/git/revision.ts';
import { readRevisionRequest } from '../../../server/src/protocol/messages/clientFiles.ts';
import { answerRequest } from '../../../server/src/protocol/messages/message.ts';

/** Reads from git. There is none where the editor runs in a browser. */
export interface GitHistory {
  readonly commitsOf: typeof commitsChanging;
  readonly fileAt: typeof fileAtRevision;
}

/**
 * Why git may not be started for a file, in a sentence; undefined where it may.
 *
 * Opening a folder must not start a program from it, and a repository's own settings can make git do so. Git is started
 * in a way that prevents this, and even so only where the person trusts the folder.
 */
export function gitUnavailableReason(uri: Uri, history: GitHistory | undefined): string | undefined {
  if (history === undefined)
    return l10n.t('Earlier versions come from git, which cannot be started in a browser.');
  if (!workspace.isTrusted)
    return l10n.t('Earlier versions come from git, which is started only in a folder that you trust.');
  if (uri.scheme !== 'file')
    return l10n.t('Earlier versions come from git, which needs a folder on this computer.');
  if (workspace.getWorkspaceFolder(uri) === undefined)
    return l10n.t('Only files in the open folder have earlier versions that can be read.');
  return undefined;
}

/**
 * Reads earlier versions of files for the server. Trust is checked at every reading, since a person can withdraw it.
 */
export function serveRevisions(client: BaseLanguageClient, history: GitHistory | undefined): Disposable {
  return answerRequest(client, readRevisionRequest, async ({ uri, revision }) => {
    const target = Uri.parse(uri);
    const message = gitUnavailableReason(target, history);
    if (message !== undefined || history === undefined) return { message: message ?? '' };
    return history.fileAt(revision, target.fsPath);
  });
}
