import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Another extension in the same extension host. It learns of every thread that is started there, so that a test can end
 * the server as a crash would. Its item in the status bar shows the number of threads.
 */
const EXTENSION = `
const vscode = require('vscode');
const { subscribe } = require('node:diagnostics_channel');
const threads = [];
const end = () => threads.at(-1).terminate();
const underLoad = async () => {
  const editor = vscode.window.activeTextEditor;
  const { uri } = editor.document;
  const asked = [];
  for (let index = 0; index < 40; index++) {
    await editor.edit((edit) => edit.insert(new vscode.Position(0, 0), '# note ' + index + '\\n'));
    const place = new vscode.Position(editor.document.lineCount - 4, 3);
    for (const command of ['vscode.executeHoverProvider', 'vscode.executeDefinitionProvider'])
      asked.push(vscode.commands.executeCommand(command, uri, place).then(() => true, () => false));
    if (index === 20) await end();
  }
  await Promise.all(asked);
  await editor.edit((edit) => edit.insert(new vscode.Position(0, 0), 'unheard-of: 1\\n'));
};
exports.activate = (context) => {
  const item = vscode.window.createStatusBarItem('someone.threads', vscode.StatusBarAlignment.Right);
  item.show();
  subscribe('worker_threads', ({ worker }) => {
    threads.push(worker);
    item.text = 'threads ' + threads.length;
  });
  context.subscriptions.push(
    item,
    vscode.commands.registerCommand('someone.end', end),
    vscode.commands.registerCommand('someone.underLoad', underLoad),
  );
};
`;

/** The titles of its commands, as the palette shows them. */
export const END = 'Test: End the Server';
export const END_UNDER_LOAD = 'Test: Press Hard and End';

/** Writes the extension into a folder of extensions that the caller removes. */
export async function serverEnder(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'server-ender-'));
  const command = (name: string, title: string) => ({
    command: `someone.${name}`,
    title: title.replace('Test: ', ''),
    category: 'Test',
  });
  const description = {
    name: 'server-ender',
    publisher: 'someone',
    version: '0.0.1',
    engines: { vscode: '^1.100.0' },
    main: './main.cjs',
    activationEvents: ['*'],
    contributes: { commands: [command('end', END), command('underLoad', END_UNDER_LOAD)] },
    capabilities: { untrustedWorkspaces: { supported: true } },
  };
  const own = join(folder, 'someone.server-ender-0.0.1');
  await mkdir(own);
  await writeFile(join(own, 'package.json'), JSON.stringify(description));
  await writeFile(join(own, 'main.cjs'), EXTENSION);
  return { folder, remove: () => rm(folder, { recursive: true, force: true, maxRetries: 5 }) };
}
