import { dirname, relative, sep } from 'node:path';
import { URI } from 'vscode-uri';

/** URI of a path on the disk; a folder's URI has no slash at its end. */
export function uriOf(path: string): string {
  return URI.file(path).toString().replace(/\/$/, '');
}

export function pathOf(uri: string): string {
  return URI.parse(uri).fsPath;
}

/** URI of the folder that contains a file. */
export function folderOf(uri: string): string {
  return uriOf(dirname(pathOf(uri)));
}

/** Gives a file's name for people: relative to the current folder, with forward slashes. */
export function relativeNames(cwd: string): (uri: string) => string {
  return (uri) => {
    const name = relative(cwd, pathOf(uri));
    return (name === '' ? '.' : name).split(sep).join('/');
  };
}
