import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import { commands } from 'vscode';
import { panelNamed, show, started } from '../support/editor.ts';

describe('the views of a report, in Restricted Mode', () => {
  const folder = mkdtempSync(join(tmpdir(), 'fake-git-'));
  const trace = join(folder, 'git-was-started');
  const path = process.env.PATH;

  before(async () => {
    await started();
    writeFileSync(join(folder, 'git'), `#!/bin/sh\n: > '${trace}'\nexit 1\n`, { mode: 0o755 });
    process.env.PATH = `${folder}${delimiter}${path ?? ''}`;
  });
  after(async () => {
    process.env.PATH = path;
    rmSync(folder, { recursive: true, force: true });
    await commands.executeCommand('workbench.action.closeAllEditors');
  });

  it('show the odds of a run', async () => {
    await show('lanternfall.route.yaml');
    await commands.executeCommand('routewright.showRunOdds');
    await panelNamed(/^Odds: Lanternfall/);
  });

  it('do not start git, whatever is asked for', async () => {
    await show('lanternfall.route.yaml');
    let done = false;
    const asked = commands.executeCommand('routewright.compareWithEarlier').then(() => (done = true));
    // The command ends with a message, which stays until it is closed.
    const end = Date.now() + 20_000;
    while (!done && Date.now() < end) await commands.executeCommand('notifications.clearAll');
    await asked;
    assert.equal(existsSync(trace), false, 'git was started in a folder that nobody trusts.');
    // Checks that the trap works.
    assert.throws(() => execFileSync('git', ['--version'], { stdio: 'ignore' }));
    assert.equal(existsSync(trace), true);
  });
});
