/**
 * An extension for a browser's extension host: a folder that is on none of the editor's disks, read and written over
 * HTTP (folder.ts). It starts before our extension and learns of every worker that is started there, so that a test can
 * end the server as a crash would. Its item in the status bar shows the number of workers.
 */
const MAIN = `
const vscode = require('vscode');
const { FileSystemError, FileChangeType } = vscode;
const workers = [];
const Started = globalThis.Worker;
let count = () => undefined;
globalThis.Worker = function (...args) {
  const worker = new Started(...args);
  workers.push(worker);
  count();
  return worker;
};
exports.activate = (context) => {
  const { authority } = context.extensionUri;
  const changed = new vscode.EventEmitter();
  const ask = async (uri, method, query = '', body = undefined) => {
    const address = 'http://' + authority + '/folder' + uri.path.split('/').map(encodeURIComponent).join('/');
    const response = await fetch(address + query, { method, body });
    if (response.status === 404) throw FileSystemError.FileNotFound(uri);
    if (!response.ok) throw FileSystemError.Unavailable(await response.text());
    return new Uint8Array(await response.arrayBuffer());
  };
  const read = async (uri, query) => JSON.parse(new TextDecoder().decode(await ask(uri, 'GET', query)));
  const tell = (type, ...uris) => changed.fire(uris.map((uri) => ({ type, uri })));
  const folder = {
    onDidChangeFile: changed.event,
    watch: () => new vscode.Disposable(() => undefined),
    stat: (uri) => read(uri, '?stat'),
    readDirectory: (uri) => read(uri, '?list'),
    readFile: (uri) => ask(uri, 'GET'),
    createDirectory: (uri) => ask(uri, 'POST', '?create').then(() => tell(FileChangeType.Created, uri)),
    delete: (uri) => ask(uri, 'DELETE').then(() => tell(FileChangeType.Deleted, uri)),
    async writeFile(uri, content, { create, overwrite }) {
      const there = await folder.stat(uri).then(() => true, () => false);
      if (!there && !create) throw FileSystemError.FileNotFound(uri);
      if (there && create && !overwrite) throw FileSystemError.FileExists(uri);
      await ask(uri, 'PUT', '', content);
      tell(there ? FileChangeType.Changed : FileChangeType.Created, uri);
    },
    async rename(from, to) {
      await ask(from, 'POST', '?rename=' + encodeURIComponent(to.path));
      tell(FileChangeType.Deleted, from);
      tell(FileChangeType.Created, to);
    },
  };
  const item = vscode.window.createStatusBarItem('someone.workers', vscode.StatusBarAlignment.Right);
  count = () => {
    item.text = 'workers ' + workers.length;
  };
  count();
  item.show();
  context.subscriptions.push(
    item,
    vscode.workspace.registerFileSystemProvider('afar', folder, { isCaseSensitive: true }),
    vscode.commands.registerCommand('someone.end', () => workers.at(-1).terminate()),
  );
};
`;

/** The scheme of the folder's addresses. */
export const SCHEME = 'afar';

/** The title of its command, as the palette shows it. */
export const END = 'Test: End the Server';

/** The extension's files by their names. */
export const FOLDER_EXTENSION: Readonly<Record<string, string>> = {
  'main.js': MAIN,
  'package.json': JSON.stringify({
    name: 'folder-afar',
    publisher: 'someone',
    version: '0.0.1',
    engines: { vscode: '^1.100.0' },
    browser: './main.js',
    activationEvents: [`onFileSystem:${SCHEME}`],
    contributes: {
      commands: [{ command: 'someone.end', title: END.replace('Test: ', ''), category: 'Test' }],
      resourceLabelFormatters: [
        { scheme: SCHEME, formatting: { label: '${path}', separator: '/', workspaceSuffix: 'afar' } },
      ],
    },
    capabilities: { virtualWorkspaces: true, untrustedWorkspaces: { supported: true } },
  }),
};
