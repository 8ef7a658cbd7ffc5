import { workspace, type TextDocument, type Uri } from 'vscode';
import type { DocumentSelector } from 'vscode-languageclient';

const languageId = 'routewright';
const fileGlob = '**/*.{route,practice,runs,week,pool}.{yaml,yml}';
const fileNamePattern = /\.(?:route|practice|runs|week|pool)\.ya?ml$/i;

/**
 * Selects our files by their language, and by their names where a person's settings give YAML files another language.
 * Only in the schemes of the open folders: an earlier version that a comparison shows is no file of the route.
 */
export function documentSelector(): DocumentSelector {
  return schemes().flatMap((scheme) => [
    { scheme, language: languageId },
    { scheme, pattern: fileGlob },
  ]);
}

/** Whether a document is one of the five kinds of file. */
export function isRoutewrightDocument({ uri }: TextDocument): boolean {
  return schemes().includes(uri.scheme) && isRoutewrightFileName(uri.path);
}

/** Whether a name has one of the five endings. */
export function isRoutewrightFileName(name: string): boolean {
  return fileNamePattern.test(name);
}

function schemes(): string[] {
  const folders = (workspace.workspaceFolders ?? []).map(({ uri }: { readonly uri: Uri }) => uri.scheme);
  return [...new Set(['file', ...folders])];
}
