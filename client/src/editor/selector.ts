import { workspace, type TextDocument, type Uri } from 'vscode';
import type { DocumentSelector } from 'vscode-languageclient';

const languageId = 'routewright';
const fileGlob = '**/*.{route,practice,runs,week}.{yaml,yml}';
const fileNamePattern = /\.(?:route|practice|runs|week)\.ya?ml$/i;

/**
 * Our files by their language, and by their names for people who give all YAML files another language.
 * Only where folders are: what a comparison shows of an earlier version is no file of the route.
 */
export function documentSelector(): DocumentSelector {
  return schemes().flatMap((scheme) => [
    { scheme, language: languageId },
    { scheme, pattern: fileGlob },
  ]);
}

/** Whether a document is one of the four kinds of file. */
export function isRoutewrightDocument({ uri }: TextDocument): boolean {
  return schemes().includes(uri.scheme) && isRoutewrightFileName(uri.path);
}

/** Whether a name has one of the four endings. */
export function isRoutewrightFileName(name: string): boolean {
  return fileNamePattern.test(name);
}

function schemes(): string[] {
  const folders = (workspace.workspaceFolders ?? []).map(({ uri }: { readonly uri: Uri }) => uri.scheme);
  return [...new Set(['file', ...folders])];
}
