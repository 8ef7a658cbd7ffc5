import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { EditorHost } from '../host/install.ts';
import { HostProblem } from '../host/problem.ts';
import type { EditorSettings } from '../host/settings.ts';

/** The editor's own extensions in a workbench without a server: only themes. */
const BUILT_IN = ['theme-defaults', 'theme-seti'];
/** Paths under which the server in server.ts serves the extensions. */
export const PLACES = { extension: '/extension', folderExtension: '/folder-extension' } as const;

/**
 * The page of a workbench without a server.
 *
 * @param authority host and port of the server of files
 * @param folder address of the folder to open
 */
export function workbenchPage(authority: string, folder: string, settings: EditorSettings): string {
  const at = (path: string) => ({ scheme: 'http', authority, path });
  const [scheme = '', path = ''] = folder.split(':');
  const configuration = {
    folderUri: { scheme, path },
    additionalBuiltinExtensions: [
      ...BUILT_IN.map((name) => at(`/extensions/${name}`)),
      at(PLACES.folderExtension),
      at(PLACES.extension),
    ],
    configurationDefaults: settings,
    webviewEndpoint: '/out/vs/workbench/contrib/webview/browser/pre/',
    isEnabledFileDownloads: true,
    isEnabledFileUploads: true,
    isEnabledCoderGettingStarted: false,
  };
  const data = JSON.stringify(configuration).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  return `<!DOCTYPE html>
<html>
<head>
<meta charset="utf-8">
<meta id="vscode-workbench-web-configuration" data-settings="${data}">
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/out/vs/code/browser/workbench/workbench.css">
</head>
<body aria-label=""></body>
<script>globalThis._VSCODE_FILE_ROOT = location.origin + '/out/';</script>
<script type="module" src="/out/nls.messages.js"></script>
<script type="module" src="/out/vs/code/browser/workbench/workbench.js"></script>
</html>
`;
}

/**
 * The script of the workbench, changed for a workbench without a server: in this host, the original script always
 * connects to a server and stores the user's data there. The changed script stores them in the browser.
 *
 * @throws HostProblem where the script does not have the expected text
 */
export async function workbenchScript(host: EditorHost): Promise<string> {
  const script = await readFile(join(host.folder, 'out/vs/code/browser/workbench/workbench.js'), 'utf8');
  const changes: readonly [RegExp, string][] = [
    [/,remoteAuthority:location\.host\b/, ''],
    [
      /(get userRoamingDataHome\(\)\{return )\w+\((\w+)\.file\(this\.userDataPath\)\.with\(\{scheme:\w+\.vscodeRemote\}\),"User"\)/,
      '$1$2.from({scheme:"vscode-userdata",path:"/User"})',
    ],
  ];
  return changes.reduce((text, [from, to]) => {
    if (!from.test(text))
      throw new HostProblem(
        `VS Code ${host.editorVersion} cannot be made to run without a server: its script has no ${from.source}.`,
      );
    return text.replace(from, to);
  }, script);
}
