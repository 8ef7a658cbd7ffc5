import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { after, before, describe, it } from 'mocha';

const LAUNCHER = fileURLToPath(new URL('../host/code', import.meta.url));

/** A suite that passes, fails or waits, as the variable TEST_SUITE says. */
const SUITE = `
const vscode = require('vscode');
exports.run = async () => {
  console.log('workspace', vscode.workspace.workspaceFolders[0].uri.fsPath);
  console.log('trusted', vscode.workspace.isTrusted);
  console.log('autosave', vscode.workspace.getConfiguration('files').get('autoSave'));
  console.error('active', vscode.extensions.getExtension('someone.extension').isActive);
  if (process.env.TEST_SUITE === 'fail') throw new Error('made to fail');
  if (process.env.TEST_SUITE === 'hang') await new Promise(() => undefined);
};
`;

interface Finished {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

describe('the launcher of the editor host', () => {
  let folder: string;

  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'launcher-test-'));
    await mkdir(join(folder, 'extension'));
    await mkdir(join(folder, 'work space'));
    const description = {
      name: 'extension',
      publisher: 'someone',
      version: '0.0.1',
      engines: { vscode: '^1.100.0' },
      main: './main.cjs',
      activationEvents: ['onStartupFinished'],
      capabilities: { untrustedWorkspaces: { supported: true } },
    };
    await writeFile(join(folder, 'extension', 'package.json'), JSON.stringify(description));
    await writeFile(join(folder, 'extension', 'main.cjs'), 'exports.activate = () => undefined;');
    await writeFile(join(folder, 'suite.cjs'), SUITE);
  });
  after(() => rm(folder, { recursive: true, force: true, maxRetries: 5 }));

  const launch = (suite: string, ...more: string[]): { child: ChildProcess; finished: Promise<Finished> } => {
    const child = spawn(
      LAUNCHER,
      [
        join(folder, 'work space'),
        '--disable-workspace-trust',
        `--extensionDevelopmentPath=${join(folder, 'extension')}`,
        `--extensionTestsPath=${join(folder, 'suite.cjs')}`,
        `--user-data-dir=${join(folder, 'user-data')}`,
        `--extensions-dir=${join(folder, 'extensions')}`,
        ...more,
      ],
      // Every process of the session inherits the mark, so the test can find those that still run.
      { env: { ...process.env, TEST_SUITE: suite, TEST_MARK: folder } },
    );
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString('utf8')));
    child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString('utf8')));
    const finished = new Promise<Finished>((resolve) => {
      child.on('close', (code) => resolve({ code, out, err }));
    });
    return { child, finished };
  };

  it('passes console output and success through', async () => {
    const { code, out, err } = await launch('pass').finished;
    assert.equal(code, 0, err);
    assert.ok(out.includes(`workspace ${join(folder, 'work space')}\n`), out);
    assert.ok(out.includes('trusted true\n'), out);
    assert.ok(out.includes('autosave off\n'), out);
    assert.match(err, /active (true|false)\n/);
    await nothingRuns(folder);
  });

  it('opens the workspace in Restricted Mode with --keep-trust', async () => {
    const { code, out, err } = await launch('pass', '--keep-trust').finished;
    assert.equal(code, 0, err);
    assert.ok(out.includes('trusted false\n'), out);
  });

  it('passes failure through', async () => {
    const { code, err } = await launch('fail').finished;
    assert.equal(code, 1);
    assert.match(err, /made to fail/);
    await nothingRuns(folder);
  });

  it('ends a suite that hangs, and every process with it', async () => {
    const { code, err } = await launch('hang', '--timeout=8').finished;
    assert.equal(code, 124);
    assert.match(err, /The editor was not done after 8 s\./);
    await nothingRuns(folder);
  });

  for (const [signal, expected] of [
    ['SIGTERM', 143],
    ['SIGKILL', null],
  ] as const) {
    it(`leaves no process behind after ${signal}`, async () => {
      const { child, finished } = launch('hang');
      await new Promise<void>((resolve) => {
        child.stdout?.on('data', (chunk: Buffer) => {
          if (chunk.toString('utf8').includes('autosave')) resolve();
        });
      });
      child.kill(signal);
      assert.equal((await finished).code, expected);
      await nothingRuns(folder);
    });
  }

  it('names a folder that does not exist', async () => {
    const { code, err } = await launch('pass', '--extensionDevelopmentPath=/nowhere/at all').finished;
    assert.equal(code, 1);
    assert.equal(err, 'There is no file or folder /nowhere/at all.\n');
  });
});

/** Waits until no process runs that has a path of the folder in its arguments or its environment. */
async function nothingRuns(folder: string): Promise<void> {
  let left: string[] = [];
  for (let tries = 0; tries < 50; tries += 1) {
    left = await processesOf(folder);
    if (left.length === 0) return;
    await wait(100);
  }
  assert.deepEqual(left, []);
}

/** The commands of the running processes, this one apart, that a session on the folder started (Linux). */
async function processesOf(folder: string): Promise<string[]> {
  const found: string[] = [];
  for (const id of await readdir('/proc')) {
    if (!/^\d+$/.test(id) || Number(id) === process.pid) continue;
    try {
      const command = await readFile(`/proc/${id}/cmdline`, 'utf8');
      const environment = await readFile(`/proc/${id}/environ`, 'utf8');
      if (`${command}${environment}`.includes(folder)) found.push(command.replaceAll('\0', ' '));
    } catch {
      // The process ended while its files were being read.
    }
  }
  return found;
}
