import { URI, Utils } from 'vscode-uri';

/** The one spelling of a URI that the workspace uses. Clients may spell the same URI in another way. */
export function normalUri(uri: string): string {
  return URI.parse(uri).toString();
}

/** A folder's URI in the form that the workspace expects: with no slash at its end. */
export function folderUri(uri: string): string {
  return normalUri(uri).replace(/\/+$/, '');
}

/** The last part of a URI's path. */
export function fileName(uri: string): string {
  return Utils.basename(URI.parse(uri));
}
