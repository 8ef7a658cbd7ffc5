import { workspace, type QuickPickItem, type Uri } from 'vscode';
import { pick } from '../editor/messages.ts';
import { routewrightFilesIn } from '../server/files.ts';

/** Whether a path is that of a route file. */
export const isRoutePath = (path: string): boolean => /\.route\.ya?ml$/i.test(path);

/** Every route file in the open folders, in the order of their paths. */
export async function workspaceRoutes(): Promise<Uri[]> {
  const found = await (canBeSearched()
    ? workspace.findFiles('**/*.route.{yaml,yml}', '**/node_modules/**')
    : routesUnsearched());
  return found.sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Whether the editor can search the open folders. In folders of any other scheme its search may never answer. */
function canBeSearched(): boolean {
  const folders = workspace.workspaceFolders ?? [];
  return folders.every(({ uri }) => uri.scheme === 'file' || uri.scheme === 'vscode-remote');
}

async function routesUnsearched(): Promise<Uri[]> {
  const folders = workspace.workspaceFolders ?? [];
  const files = await Promise.all(folders.map(({ uri }) => routewrightFilesIn(uri)));
  return files.flat().filter(({ path }) => isRoutePath(path));
}

/** A route file in a list to pick from. */
export interface RouteItem extends QuickPickItem {
  readonly route: Uri;
}

/** Lets the person pick one of several routes; undefined where they pick none. */
export async function pickRoute(routes: readonly Uri[], title: string): Promise<Uri | undefined> {
  return (await pick(routes.map(routeItem), { title, matchOnDescription: true }))?.route;
}

export function routeItem(route: Uri): RouteItem {
  return { label: fileNameOf(route), description: workspace.asRelativePath(route), route };
}

/** The last part of a file's path. */
export function fileNameOf(uri: Uri): string {
  return uri.path.split('/').at(-1) ?? uri.path;
}
