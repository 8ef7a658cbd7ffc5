import assert from 'node:assert/strict';
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { compileFunction } from 'node:vm';
import { after, before, describe, it } from 'mocha';
import { commands, window, workspace, WorkspaceEdit } from 'vscode';
import { printedRanking } from '../support/commandLine.ts';
import { diagnosticsAt, extensionFolder, fileUri, rangeOf, show, started } from '../support/editor.ts';
import { unmarked } from '../support/marked.ts';
import { programsStarted } from '../support/programs.ts';
import { PLANTED, PLANTED_FOLDER, PLANTED_NAMES } from '../support/planted.ts';

const LIMIT_MS = 120_000;

describe('in Restricted Mode', () => {
  // Begins before the extension does, so that its start is seen too.
  const programs = programsStarted(join(extensionFolder(), 'dist'));
  before(started);
  after(async () => {
    programs.end();
    await commands.executeCommand('workbench.action.files.revert');
    await commands.executeCommand('workbench.action.closeAllEditors');
  });

  it('nobody has called the folder trusted', () => {
    assert.equal(workspace.isTrusted, false);
  });

  it('what is wrong is found in every kind of file, and goes where it is mended', async () => {
    for (const name of PLANTED_NAMES) {
      await diagnosticsAt(fileUri(PLANTED_FOLDER, name), unmarked(PLANTED[name]).marks);
    }
    const week = await show(PLANTED_FOLDER, 'planted.week.yaml');
    const edit = new WorkspaceEdit();
    edit.replace(week.uri, rangeOf(week, 'tues'), 'tue');
    assert.ok(await workspace.applyEdit(edit));
    await diagnosticsAt(
      week.uri,
      unmarked(PLANTED['planted.week.yaml']).marks.filter(({ code }) => code !== 'unknown-key'),
    );
    await commands.executeCommand('undo');
  });

  it('Rank Next Skill shows a list, and its first row leads to what the command line puts first', async () => {
    const route = fileUri('lanternfall.route.yaml');
    const { rows } = await printedRanking(extensionFolder(), route.fsPath);
    await show('lanternfall.week.yaml');
    let done = false;
    void commands.executeCommand('routewright.rankNextSkill').then(() => (done = true));
    // The editor has no event for a list or a message that appears, so both are answered again and again until that has
    // an effect.
    const end = Date.now() + LIMIT_MS;
    while (window.activeTextEditor?.document.uri.path !== route.path && Date.now() < end) {
      await commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
    }
    const editor = window.activeTextEditor;
    assert.equal(editor?.document.uri.path, route.path);
    assert.equal(editor?.document.getText(editor.selection), rows[0]?.technique);
    while (!done && Date.now() < end) await commands.executeCommand('notifications.clearAll');
    assert.ok(done, 'The command did not come to its end.');
  });

  it('no program was started for any of it', async () => {
    assert.deepEqual(programs.seen(), []);
    // Checks that one would have been seen.
    const filename = join(extensionFolder(), 'dist/client.cjs');
    const start = compileFunction("return spawn('true')", ['spawn'], { filename }) as (
      of: typeof spawn,
    ) => ChildProcess;
    await once(start(spawn), 'close');
    assert.deepEqual(programs.seen(), ['true']);
  });
});
