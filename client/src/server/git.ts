import { l10n, Uri, workspace, type Disposable } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { commitsChanging, fileAtRevision } from '../../../server/src/git/revision.ts';
import { readRevisionRequest } from '../../../server/src/protocol/messages/clientFiles.ts';
import { answerRequest } from '../../../server/src/protocol/messages/message.ts';

/** The reading of git; there is none where the editor runs in a browser. */
export interface GitHistory {
  readonly commitsOf: typeof commitsChanging;
  readonly fileAt: typeof fileAtRevision;
}

/**
 * Why git may not be started for a file, in a sentence; undefined where it may.
 *
 * Opening a folder must not start anything in it: git does what a repository's own settings say. It is hardened
 * against that, and started only where the person trusts the folder all the same.
 */
export function gitUnavailableReason(uri: Uri, history: GitHistory | undefined): string | undefined {
  if (history === undefined)
    return l10n.t('Earlier versions come from git, which cannot be started in a browser.');
  if (!workspace.isTrusted)
    return l10n.t('Earlier versions come from git, which is started only in a folder that you trust.');
  if (uri.scheme !== 'file')
    return l10n.t('Earlier versions come from git, which needs a folder on this computer.');
  if (workspace.getWorkspaceFolder(uri) === undefined)
    return l10n.t('Earlier versions are read only of files in the folder that is open.');
  return undefined;
}

/** Answers the server where it needs a file as it was. Asked at every single reading, since trust can be taken away. */
export function serveRevisions(client: BaseLanguageClient, history: GitHistory | undefined): Disposable {
  return answerRequest(client, readRevisionRequest, async ({ uri, revision }) => {
    const target = Uri.parse(uri);
    const message = gitUnavailableReason(target, history);
    if (message !== undefined || history === undefined) return { message: message ?? '' };
    return history.fileAt(revision, target.fsPath);
  });
}
