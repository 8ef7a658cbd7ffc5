import assert from 'node:assert/strict';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import {
  activeTab,
  goTo,
  openFile,
  openWorkbench,
  pickRows,
  runCommand,
  screenshot,
} from '../host/workbench.ts';
import type { Workbench } from '../host/workbench.ts';

const EXTENSION = `
const vscode = require('vscode');
exports.activate = (context) => {
  const choose = async () => {
    const row = await vscode.window.showQuickPick(['first row', 'second row']);
    const editor = vscode.window.activeTextEditor;
    await editor.edit((edit) => edit.insert(editor.selection.active, row + ' ' + vscode.workspace.isTrusted + ' '));
  };
  context.subscriptions.push(vscode.commands.registerCommand('someone.choose', choose));
};
`;

describe('a workbench driven as by a person', () => {
  let folder: string;
  let workbench: Workbench;

  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'workbench-test-'));
    await mkdir(join(folder, 'extension'));
    await mkdir(join(folder, 'workspace'));
    const description = {
      name: 'extension',
      publisher: 'someone',
      version: '0.0.1',
      engines: { vscode: '^1.100.0' },
      main: './main.cjs',
      activationEvents: [],
      contributes: { commands: [{ command: 'someone.choose', title: 'Choose a Row', category: 'Test' }] },
      capabilities: { untrustedWorkspaces: { supported: true } },
    };
    await writeFile(join(folder, 'extension', 'package.json'), JSON.stringify(description));
    await writeFile(join(folder, 'extension', 'main.cjs'), EXTENSION);
    await writeFile(join(folder, 'workspace', 'words.txt'), 'one\ntwo\n');
    workbench = await openWorkbench({
      extensionPath: join(folder, 'extension'),
      workspace: join(folder, 'workspace'),
      keepTrust: true,
      colorTheme: 'Default Light Modern',
      viewport: { width: 900, height: 600 },
    });
  });
  after(async () => {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  it('opens a file, runs a command, chooses a row, undoes, and saves only when asked', async () => {
    const { page } = workbench;
    const file = join(folder, 'workspace', 'words.txt');
    const line = page.locator('.view-line').nth(1);
    await openFile(page, 'words.txt');
    await goTo(page, 2, 4);
    await runCommand(page, 'Test: Choose a Row');
    // The palette's own rows may still be visible for a moment.
    await pickRows(page).filter({ hasText: 'second row' }).waitFor();
    assert.deepEqual(await pickRows(page).allInnerTexts(), ['first row', 'second row']);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await line.filter({ hasText: /twosecond.row.false/ }).waitFor();
    assert.equal(await readFile(file, 'utf8'), 'one\ntwo\n');
    await page.keyboard.press('Control+Z');
    await line.filter({ hasText: /^two$/ }).waitFor();
    await page.keyboard.type('s');
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal(await readFile(file, 'utf8'), 'one\ntwos\n');
  });

  it('has the asked colours and size', async () => {
    const picture = join(folder, 'picture.png');
    await screenshot(workbench.page, picture);
    const bytes = await readFile(picture);
    // Source: PNG specification, third edition, 5.2 and 11.2.1: signature, then width and height at bytes 16
    // and 20 of the file (mark S).
    assert.equal(bytes.subarray(0, 8).toString('hex'), '89504e470d0a1a0a');
    assert.deepEqual([bytes.readUInt32BE(16), bytes.readUInt32BE(20)], [900, 600]);
    const classes = await workbench.page.locator('.monaco-workbench').getAttribute('class');
    assert.match(classes ?? '', /\bvs\b(?!-)/);
  });
});
