import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Range } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { afterAll, beforeAll, beforeEach, afterEach, describe, expect, it } from 'vitest';
import { rank } from '../../server/src/model/index.ts';
import { rankReport } from '../../server/src/reports/rank/rankReport.ts';
import { techniqueNamesOf } from '../../server/src/queries/names.ts';
import { nodeFileSource } from '../../server/src/workspace/nodeFileSource.ts';
import { buildModelInput } from '../../server/src/queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { bundleServer, startProcess, type LspClient, type RunningServer } from './server.ts';
import { statusRequest } from '../../server/src/protocol/messages/findings.ts';
import { rankRequest } from '../../server/src/protocol/messages/rank.ts';
import { todayNotification } from '../../server/src/protocol/messages/settings.ts';
import { tonightRequest } from '../../server/src/protocol/messages/tonight.ts';
import { setStateRequest, swapRequest } from '../../server/src/protocol/messages/week.ts';
import {
  CompletionRequest,
  DefinitionRequest,
  DocumentSymbolRequest,
  HoverRequest,
  type DocumentSymbol,
} from 'vscode-languageserver-protocol';

const samples = join(import.meta.dirname, '../../samples');
const today = '2026-11-09';
const name = 'lanternfall';

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let folder: string;
let folderUri: string;
let server: RunningServer;
let client: LspClient;
let route: string;
let routeUri: string;

beforeAll(async () => {
  bundle = await bundleServer('main');
});
afterAll(() => bundle.remove());

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lsp-workspace-'));
  for (const kind of ['route', 'practice', 'runs', 'week'])
    await cp(join(samples, `${name}.${kind}.yaml`), join(folder, `${name}.${kind}.yaml`));
  folderUri = pathToFileURL(folder).toString();
  routeUri = `${folderUri}/${name}.route.yaml`;
  route = await readFile(join(folder, `${name}.route.yaml`), 'utf8');
  server = startProcess(bundle.file);
  ({ client } = server);
});
afterEach(async () => {
  expect(await server.stop()).toBe(0);
  await rm(folder, { recursive: true, force: true });
});

/** The range of the first occurrence of a word in a text, or of the part of it between `⟦` and `⟧`. */
function rangeOf(text: string, marked: string): Range {
  const document = TextDocument.create('file:///t', 'routewright', 1, text);
  const [before = '', word, after = ''] = marked.includes('⟦') ? marked.split(/[⟦⟧]/) : ['', marked, ''];
  const start = text.indexOf(before + word + after) + before.length;
  return { start: document.positionAt(start), end: document.positionAt(start + word!.length) };
}

function at(uri: string, text: string, marked: string) {
  return { textDocument: { uri }, position: rangeOf(text, marked).start };
}

describe('diagnostics over standard input and output', () => {
  it('finds what is wrong with exact ranges, and sees it mended', async () => {
    const broken = route
      .replace('      - crate-vault\n', '      - crate-valt\n')
      .replace('spread: 1.4', 'spraed: 1.4');
    await client.initialize(folderUri, { today });
    await client.open(routeUri, broken);
    const found = await client.diagnostics(routeUri, (all) => all.length >= 2);
    expect(
      found
        .filter(({ severity }) => severity === 1)
        .map(({ code, range, source }) => ({ code, range, source })),
    ).toEqual([
      { code: 'unknown-technique', range: rangeOf(broken, '- ⟦crate-valt⟧\n'), source: 'routewright' },
      { code: 'unknown-key', range: rangeOf(broken, 'spraed'), source: 'routewright' },
    ]);
    await client.change(
      routeUri,
      2,
      { range: rangeOf(broken, '- ⟦crate-valt⟧\n'), text: 'crate-vault' },
      { range: rangeOf(broken, 'spraed'), text: 'spread' },
    );
    expect(await client.diagnostics(routeUri, (_, version) => version === 2)).toEqual([]);
    // Nothing older came after something newer.
    const versions = client.history.flatMap(({ uri, version }) => (uri === routeUri ? [version ?? 0] : []));
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
  });

  it('follows files that change on the disk, and speaks of those that are not open', async () => {
    await client.initialize(folderUri, { today });
    await client.open(routeUri, route);
    await client.diagnostics(routeUri, () => true);
    const uri = `${folderUri}/more.practice.yaml`;
    const text = `route: ${name}.route.yaml\nsessions:\n  - start: 2026-11-01\n    blocks: [{ technique: net-clim, minutes: 20 }]\n`;
    await writeFile(join(folder, 'more.practice.yaml'), text);
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri, type: 1 }],
    });
    const [finding] = await client.diagnostics(uri, (all) => all.length > 0);
    expect(finding).toMatchObject({ code: 'unknown-technique', range: rangeOf(text, 'net-clim') });
    await rm(join(folder, 'more.practice.yaml'));
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri, type: 3 }],
    });
    expect(await client.diagnostics(uri, (all) => all.length === 0)).toEqual([]);
  });

  it('counts characters as UTF-16 does', async () => {
    const text = route.replace('name: Harbor gate', 'name: "🏮🏮 gate", x');
    await client.initialize(folderUri, { today });
    await client.open(routeUri, text);
    const uri = `${folderUri}/lamps.week.yaml`;
    const week = `route: ${name}.route.yaml\nstates: { "🏮": learning, lens-align: lerning }\n`;
    await client.open(uri, week);
    const found = await client.diagnostics(uri, (all) => all.length >= 2);
    // Each lantern is two UTF-16 units, as are the string lengths of JavaScript.
    expect(found.find(({ code }) => code === 'wrong-value')!.range).toEqual({
      start: { line: 1, character: week.split('\n')[1]!.indexOf('lerning') },
      end: { line: 1, character: week.split('\n')[1]!.indexOf('lerning') + 'lerning'.length },
    });
  });

  it('finds the files beside one that is opened without a folder', async () => {
    await client.initialize(null, { today });
    await client.open(routeUri, route);
    const status = await client.request(statusRequest, { uri: routeUri });
    expect(status.route).toBe('Lanternfall, any%');
    const { report } = await client.request(rankRequest, { uri: routeUri });
    expect(report!.skipped.some(({ reason }) => reason.includes('in the run already'))).toBe(true);
  });

  it('takes folders away and brings others', async () => {
    await client.initialize(folderUri, { today });
    const uri = `${folderUri}/lost.week.yaml`;
    await writeFile(join(folder, 'lost.week.yaml'), 'route: none.route.yaml\n');
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [{ uri: folderUri, name: 'workspace' }] },
    });
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [{ uri: folderUri, name: 'workspace' }], removed: [] },
    });
    const [finding] = await client.diagnostics(uri, (all) => all.length > 0);
    expect(finding!.code).toBe('unknown-route');
  });
});

describe('questions over standard input and output', () => {
  beforeEach(async () => {
    await client.initialize(folderUri, { today });
    await client.open(routeUri, route);
  });

  it('answers hover, completion, definition and symbols', async () => {
    const hover = await client.request(HoverRequest.type, at(routeUri, route, '- ⟦awning-bounce⟧\n'));
    expect(JSON.stringify(hover?.contents)).toContain('Lands in a run now');

    const typed = route.replace('- awning-bounce\n', '- awning-bounce\n      - aw\n');
    await client.change(routeUri, 2, { text: typed });
    const cursor = rangeOf(typed, '- ⟦aw⟧\n').end;
    const items = await client.request(CompletionRequest.type, {
      textDocument: { uri: routeUri },
      position: cursor,
    });
    const listed = Array.isArray(items) ? items : [];
    expect(listed.map(({ label }) => label)).toContain('awning-chain');
    await client.change(routeUri, 3, { text: route });

    const target = await client.request(DefinitionRequest.type, at(routeUri, route, '- ⟦awning-bounce⟧\n'));
    expect(target).toEqual({ uri: routeUri, range: rangeOf(route, '  ⟦awning-bounce⟧:') });

    const symbols = await client.request(DocumentSymbolRequest.type, {
      textDocument: { uri: routeUri },
    });
    const segments = symbols!.find((symbol) => symbol.name === 'segments') as DocumentSymbol;
    expect(segments.children![0]).toMatchObject({ name: 'harbor', detail: 'Harbor gate' });
  });

  it('ranks as the model does when asked directly', async () => {
    const { report, title } = await client.request(rankRequest, { uri: routeUri });
    const workspace = new Workspace(nodeFileSource(), [folderUri]);
    await workspace.load();
    const project = workspace.projectOf(routeUri)!;
    // 2026-11-09 is 20766 days after 1970-01-01: `date -u -d 2026-11-09 +%s` gives 1794182400.
    const question = buildModelInput(project, runnerFilesOf(project) as RunnerFiles, {
      asOf: 1794182400 / 86400,
    });
    const direct = rankReport(rank(question), question.asOfDay, techniqueNamesOf(project));
    expect(report).toEqual(JSON.parse(JSON.stringify(direct)));
    expect(title).toBe(`Lanternfall, any%, as of ${today}`);
  });

  it('gives the edit that sets a state, which then shows in the ranking', async () => {
    const uri = `${folderUri}/${name}.week.yaml`;
    const text = await readFile(join(folder, `${name}.week.yaml`), 'utf8');
    await client.open(uri, text, 7);
    const before = await client.request(rankRequest, { uri });
    // No run has tried it, so no entry speaks against the state. A technique that cost time in runs would stay ranked.
    const technique = 'blind-line';
    expect(before.lines.map((line) => line.technique)).toContain(technique);
    const { edit } = await client.request(setStateRequest, { uri, technique, state: 'in-run' });
    expect(edit).toMatchObject({ uri, version: 7, create: false });
    await client.change(uri, 8, { range: edit!.changes[0]!.range, text: edit!.changes[0]!.newText });
    const after = await client.request(rankRequest, { uri });
    expect(after.lines.map((line) => line.technique)).not.toContain(technique);
    expect(after.skipped.map((line) => line.technique)).toContain(technique);
  });

  it('gives a swap on offer as one edit, which then shows in what to practise', async () => {
    await client.connection.sendNotification(todayNotification, { today: '2026-11-16T18:00' });
    const uri = `${folderUri}/${name}.week.yaml`;
    await client.open(uri, await readFile(join(folder, `${name}.week.yaml`), 'utf8'), 7);
    const tonight = async () => {
      const found = await client.request(tonightRequest, { uri });
      if ('message' in found) throw new Error(found.message);
      return found.report;
    };
    const [offer] = (await tonight()).swaps;
    const { technique, instead } = offer!;
    const { edit } = await client.request(swapRequest, { uri, technique, instead });
    expect(edit).toMatchObject({ uri, version: 7, create: false });
    expect(edit!.changes).toHaveLength(1);
    await client.change(uri, 8, { range: edit!.changes[0]!.range, text: edit!.changes[0]!.newText });
    const { standings, swaps } = await tonight();
    const standing = new Map(standings.map((one) => [one.technique, one.standing]));
    expect([standing.get(technique), standing.get(instead)]).toEqual(['aside', 'learning']);
    expect(swaps).not.toContainEqual(offer);
  });

  it('asks about another day once the date has changed', async () => {
    await client.connection.sendNotification(todayNotification, { today: '2026-11-20' });
    const { report } = await client.request(rankRequest, { uri: routeUri });
    expect(report!.asOf).toBe('2026-11-20');
  });
});
