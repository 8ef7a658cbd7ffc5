import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import { commands, ConfigurationTarget, window, workspace } from 'vscode';
import { fileUri, isPanel, panelNamed, show, started } from '../support/editor.ts';

const LIMIT_MS = 120_000;

/** Makes this folder a hostile repository, whose settings name a program wherever git allows it. */
function hostileRepository(): string {
  const folder = fileUri().fsPath;
  const trace = join(folder, 'program-was-run');
  const git = (...args: string[]): void => {
    execFileSync('git', ['-c', 'user.name=Iris', '-c', 'user.email=iris@lanternfall.example', ...args], {
      cwd: folder,
      stdio: 'ignore',
    });
  };
  git('init', '--quiet');
  git('add', '--all');
  git('commit', '--quiet', '--message', 'As it was');
  const program = join(folder, '.git', 'program');
  writeFileSync(program, `#!/bin/sh\n: > '${trace}'\nexit 1\n`, { mode: 0o755 });
  for (const setting of ['core.fsmonitor', 'core.pager', 'core.sshCommand', 'diff.external', 'gpg.program'])
    git('config', setting, program);
  git('config', 'log.showSignature', 'true');
  return trace;
}

describe('the views of a report', () => {
  before(started);
  after(async () => {
    await commands.executeCommand('workbench.action.files.revert');
    await commands.executeCommand('workbench.action.closeAllEditors');
  });

  it('show the odds of a run beside the route, then the review and the months in the same panel', async () => {
    await show('lanternfall.week.yaml');
    await commands.executeCommand('routewright.showRunOdds');
    await panelNamed(/^Odds: Lanternfall/);
    await show('lanternfall.practice.yaml');
    await commands.executeCommand('routewright.reviewPractice');
    await panelNamed(/^Review: Lanternfall/);
    await show('lanternfall.runs.yaml');
    await commands.executeCommand('routewright.showProgress');
    await panelNamed(/^Progress: Lanternfall/);
    const panels = window.tabGroups.all.flatMap(({ tabs }) => tabs).filter(isPanel);
    assert.equal(panels.length, 1);
  });

  it('compare a route with itself as git has it, and run no program that the repository names', async () => {
    // The editor's own git support would start the program.
    await workspace.getConfiguration('git').update('enabled', false, ConfigurationTarget.Global);
    const trace = hostileRepository();
    const route = await show('lanternfall.route.yaml');
    const compared = commands.executeCommand('routewright.compareWithEarlier');
    // The editor has no event for a list that appears, so its first row is accepted again and again until that has an
    // effect.
    const end = Date.now() + LIMIT_MS;
    const isShown = (): boolean =>
      window.tabGroups.all.some(({ tabs }) =>
        tabs.some((tab) => isPanel(tab) && /^Compare: /.test(tab.label)),
      );
    while (!isShown() && Date.now() < end) {
      await commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    await compared;
    await panelNamed(/^Compare: Lanternfall/);
    // What it says is tested where the panel can be read: person/compare.test.ts.
    assert.equal(existsSync(trace), false, 'A program of the repository was run.');
    assert.equal(route.isDirty, false);
  });
});
