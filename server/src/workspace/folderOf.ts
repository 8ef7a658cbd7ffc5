import { URI, Utils } from 'vscode-uri';

/** URI of the folder that holds a file, without a slash at its end. */
export function folderOf(uri: string): string {
  return Utils.dirname(URI.parse(uri)).toString().replace(/\/$/, '');
}
