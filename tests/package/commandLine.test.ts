import { execFile, spawn } from 'node:child_process';
import { cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { makePackages, root } from './packages.ts';
import { HoverRequest, InitializeRequest } from 'vscode-languageserver-protocol';

interface Published {
  readonly uri: string;
  readonly diagnostics: readonly { readonly code: string; readonly message: string }[];
}

const run = promisify(execFile);
const MINUTES = 60_000;

let folder: string;
let home: string;
let program: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'package-npm-'));
  home = join(folder, 'home');
  await mkdir(home);
  const { tarball } = await makePackages(folder);
  await writeFile(join(home, 'package.json'), '{ "name": "somebody", "private": true }\n');
  // Offline and from a cache that is empty: whatever it needed besides itself could not be had.
  const args = ['install', '--offline', '--cache', join(folder, 'cache'), '--no-audit', '--no-fund', tarball];
  await run('npm', args, { cwd: home });
  await cp(join(root, 'samples'), home, { recursive: true, filter: (path) => !path.endsWith('.ts') });
  program = join(home, 'node_modules/.bin/routewright');
}, 3 * MINUTES);
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Runs the installed command in the folder it was installed into, with nothing of this repository to fall back on. */
const routewright = (...args: string[]) => run(program, args, { cwd: home });

describe('the command line’s package, installed into an empty folder', () => {
  it('brings everything along: no further package, no script, no source map', async () => {
    const names = await readdir(join(home, 'node_modules'));
    expect(names.filter((name) => !name.startsWith('.'))).toEqual(['routewright-server']);
    const installed = join(home, 'node_modules/routewright-server');
    const manifest = JSON.parse(await readFile(join(installed, 'package.json'), 'utf8')) as object;
    expect(manifest).not.toHaveProperty('dependencies');
    expect(manifest).not.toHaveProperty('scripts');
    const files = await readdir(installed, { recursive: true });
    expect(files.filter((file) => /\.(map|ts|node)$/.test(file))).toEqual([]);
    expect(files).toEqual(
      expect.arrayContaining([
        'LICENSE',
        'README.md',
        join('dist', 'THIRD-PARTY-NOTICES.txt'),
        join('dist', 'sbom.cdx.json'),
      ]),
    );
    const own = await readFile(join(installed, 'LICENSE'), 'utf8');
    expect(own).toBe(await readFile(join(root, 'LICENSE'), 'utf8'));
  });

  it('ranks the sample', async () => {
    const { stdout } = await routewright('rank', '--json', '--as-of', 'last', 'lanternfall.route.yaml');
    const { rows } = JSON.parse(stdout) as { rows: { technique: string; gainPerHour: number }[] };
    expect(rows.length).toBeGreaterThan(5);
    expect(rows[0]!.gainPerHour).toBeGreaterThan(rows.at(-1)!.gainPerHour);
  });

  it('checks a file: says what is wrong by its exit code and by place', async () => {
    await routewright('check', 'lanternfall.route.yaml');
    await writeFile(join(home, 'wrong.route.yaml'), 'game: A game\nsegments:\n  - { id: one, time: soon }\n');
    const failed = await routewright('check', 'wrong.route.yaml').catch((error: unknown) => error);
    expect(failed).toMatchObject({ code: 1 });
    expect((failed as { stdout: string }).stdout).toMatch(/wrong\.route\.yaml:3:\d+/);
  });

  it.skipIf(availableParallelism() < 2)(
    'has its worker threads make the forecasts of many routes',
    async () => {
      const many = join(folder, 'many');
      await mkdir(many);
      // Competent after the first session, and practised on twice.
      const log = ['10-01', '10-02', '10-03']
        .map(
          (date) =>
            `  - { start: 2026-${date}, blocks: [{ technique: hop, minutes: 60, landed: [330, 340] }] }\n`,
        )
        .join('');
      for (let i = 0; i < 130; i++) {
        const techniques = `techniques:\n  hop: { difficulty: ${1 + (i % 4)}, saves: 2, loses: 1 }\n`;
        const segments = 'segments:\n  - { id: one, time: 40, techniques: [hop] }\n';
        await writeFile(
          join(many, `r${i}.route.yaml`),
          `game: A game\ncategory: any\n${segments}${techniques}`,
        );
        await writeFile(join(many, `r${i}.practice.yaml`), `route: r${i}.route.yaml\nsessions:\n${log}`);
      }
      // Loaded in every thread: in a worker, what it gives back is counted.
      const counting = join(folder, 'counting.cjs');
      const counts = join(folder, 'counts');
      await writeFile(
        counting,
        `const { parentPort } = require('node:worker_threads');
       const { appendFileSync } = require('node:fs');
       const post = parentPort?.postMessage.bind(parentPort);
       if (post) parentPort.postMessage = (message) => {
         if (message.id) appendFileSync(${JSON.stringify(counts)}, message.error ? 'failed ' : message.result.length + ' ');
         post(message);
       };\n`,
      );
      const { stdout } = await run(program, ['check', '--json', '--as-of', 'last'], {
        cwd: many,
        env: { ...process.env, NODE_OPTIONS: `--require ${JSON.stringify(counting)}` },
      });
      const found = JSON.parse(stdout) as { findings: { code: string }[] };
      expect(found.findings.filter(({ code }) => code === 'drilled-past-use')).toHaveLength(130);
      const counted = (await readFile(counts, 'utf8')).trim().split(' ').map(Number);
      expect(counted.length).toBeGreaterThan(1);
      expect(counted.reduce((sum, one) => sum + one, 0)).toBe(130);
    },
  );

  it('serves a client that speaks nothing but the protocol', async () => {
    const server = spawn(program, ['serve', '--stdio'], { cwd: home, stdio: ['pipe', 'pipe', 'inherit'] });
    const exit = new Promise((resolve) => server.on('exit', resolve));
    const connection = createMessageConnection(
      new StreamMessageReader(server.stdout),
      new StreamMessageWriter(server.stdin),
    );
    const uri = pathToFileURL(join(home, 'new.route.yaml')).href;
    const published = new Promise<Published['diagnostics']>((resolve) => {
      connection.onNotification('textDocument/publishDiagnostics', (params: Published) => {
        if (params.uri === uri && params.diagnostics.length > 0) resolve(params.diagnostics);
      });
    });
    connection.listen();
    const { capabilities } = await connection.sendRequest(InitializeRequest.type, {
      processId: null,
      rootUri: null,
      capabilities: {},
    });
    expect(capabilities).toMatchObject({ hoverProvider: true });
    await connection.sendNotification('initialized', {});
    const text =
      'game: A game\ncategory: any\nsegments:\n  - { id: one, time: 40, techniques: [wall-kik] }\n' +
      'techniques:\n  wall-kick: { difficulty: 3, saves: 2, loses: 1 }\n';
    await connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'yaml', version: 1, text },
    });
    expect((await published).map(({ code }) => code)).toContain('unknown-technique');
    const hover = await connection.sendRequest(HoverRequest.type, {
      textDocument: { uri },
      position: { line: 5, character: 4 },
    });
    expect(JSON.stringify(hover?.contents)).toContain('difficulty 3 of 10');
    await connection.sendRequest('shutdown');
    await connection.sendNotification('exit');
    expect(await exit).toBe(0);
    connection.dispose();
  });
});
