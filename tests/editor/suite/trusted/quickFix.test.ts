import assert from 'node:assert/strict';
import { after, before, describe, it } from 'mocha';
import { CodeActionKind, commands, Range, workspace, WorkspaceEdit, type CodeAction } from 'vscode';
import { diagnosticsAt, rangeOf, show, started } from '../support/editor.ts';

describe('the quick fix of a mistyped id', () => {
  before(started);
  after(async () => {
    await commands.executeCommand('workbench.action.files.revert');
    await commands.executeCommand('workbench.action.closeAllEditors');
  });

  it('puts the nearest id in its place, as an edit that can be undone', async () => {
    const log = await show('lanternfall.practice.yaml');
    const right = log.getText();
    const edit = new WorkspaceEdit();
    const place = rangeOf(log, 'rope-swing');
    edit.replace(log.uri, place, 'rope-swimg');
    assert.ok(await workspace.applyEdit(edit));
    const wrong = log.getText();
    const { start, end } = place;
    await diagnosticsAt(log.uri, [
      {
        code: 'unknown-technique',
        start: [start.line, start.character],
        end: [end.line, end.character],
      },
    ]);

    const actions = await commands.executeCommand<CodeAction[]>(
      'vscode.executeCodeActionProvider',
      log.uri,
      new Range(start, start),
      CodeActionKind.QuickFix.value,
    );
    const fixes = actions.filter(({ kind }) => kind?.value === CodeActionKind.QuickFix.value);
    const [preferred, ...others] = fixes.filter(({ isPreferred }) => isPreferred);
    assert.deepEqual(others, []);
    assert.match(preferred?.title ?? '', /rope-swing/);
    assert.ok(preferred?.edit && (await workspace.applyEdit(preferred.edit)));
    assert.equal(log.getText(), right);
    await diagnosticsAt(log.uri, []);
    await commands.executeCommand('undo');
    assert.equal(log.getText(), wrong);
  });
});
