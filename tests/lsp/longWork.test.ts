import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { CancellationTokenSource, ResponseError } from 'vscode-jsonrpc/node';
import { LSPErrorCodes } from 'vscode-languageserver-protocol';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { rank } from '../../server/src/model/index.ts';
import { buildModelInput } from '../../server/src/queries/modelInput.ts';
import { techniqueNamesOf } from '../../server/src/queries/names.ts';
import { rankReport } from '../../server/src/reports/rank/rankReport.ts';
import { shownQuotes } from '../../server/src/text/shownQuotes.ts';
import { memoryFileSource } from '../../server/src/workspace/fileSource.ts';
import { runnerFilesOf } from '../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { cpuTimeOf } from '../helpers/cpuTime.ts';
import { beyondLimits, withinLimits, type Files } from '../helpers/largeRoutes.ts';
import { bundleServer, startProcess, type LspClient, type RunningServer } from './server.ts';

/** The day that all answers are for. */
const today = '2026-11-02';
/** Most seconds of processor time between a request, or its cancellation, and its end. */
const mostSeconds = 2;
/** Quick requests that are answered one after the other while a slow one is worked on. */
const quickRequests = 8;

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let folder: string;
let server: RunningServer;
let client: LspClient;
let uri: string;
beforeAll(async () => {
  bundle = await bundleServer('main');
});
afterAll(() => bundle.remove());
afterEach(async () => {
  expect(await server.stop()).toBe(0);
  rmSync(folder, { recursive: true });
});

/** Starts a server in a folder with these files; the route is open. */
async function serve(files: Files, routeName = 'a.route.yaml'): Promise<void> {
  folder = mkdtempSync(join(tmpdir(), 'long-work-'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  server = startProcess(bundle.file);
  ({ client } = server);
  const root = pathToFileURL(folder).toString();
  uri = `${root}/${routeName}`;
  await client.initialize(root, { today });
  await client.open(uri, files[routeName]!);
}

type Asked = readonly [method: string, params: object];

/** All that works with the model's numbers, and hover and completion at a technique. */
function everything(text: string, technique = 't0'): readonly Asked[] {
  const textDocument = { uri };
  const line = text.split('\n').findIndex((one) => one.startsWith(`  ${technique}:`));
  const place = { textDocument, position: { line, character: 3 } };
  const panel = { uri, technique, wait: true, rest: true };
  return [
    ['textDocument/hover', place],
    ['textDocument/completion', place],
    ['textDocument/codeLens', { textDocument }],
    ['routewright/rank', { uri }],
    ['routewright/tonight', { uri }],
    ['routewright/practiceOffer', { uri, plan: true }],
    ['routewright/panel', { ...panel, view: 'week', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'ranking', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'ranking', objective: 'target' }],
    ['routewright/panel', { ...panel, view: 'curve', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'odds', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'review', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'progress', objective: 'time' }],
    ['routewright/panel', { ...panel, view: 'compare', compared: { uri }, objective: 'time' }],
  ];
}

const quick = (): Promise<unknown> => client.request('textDocument/foldingRange', { textDocument: { uri } });

/** Waits for something, and gives the seconds of processor time that the server used meanwhile. */
async function secondsOf(wait: () => Promise<unknown>): Promise<number> {
  const before = cpuTimeOf(server.pid);
  await wait();
  return (cpuTimeOf(server.pid) - before) / 1000;
}

/** Sends a request that can be cancelled, and says whether it has ended. */
function begin([method, params]: Asked) {
  const source = new CancellationTokenSource();
  const begun = { ended: false, cancel: () => source.cancel(), result: Promise.resolve<unknown>(undefined) };
  const settle = (found: unknown): unknown => {
    begun.ended = true;
    return found;
  };
  begun.result = client.connection.sendRequest(method, params, source.token).then(settle, settle);
  return begun;
}

const named = ['a segment with 300 uses', 'a chain of 2,000 needs', '2,000 strokes of luck'];

describe.each(beyondLimits.filter(({ name }) => named.includes(name)))('$name', ({ files, finding }) => {
  it('is a finding, and every request is answered within two seconds', async () => {
    await serve(files);
    const seconds: Record<string, number> = {};
    seconds.diagnostics = await secondsOf(async () => {
      const found = await client.diagnostics(uri, (all) => all.length > 0);
      expect(found.map(({ code }) => code)).toContain('too-large');
      expect(JSON.stringify(found)).toContain(shownQuotes(finding));
    });
    for (const one of everything(files['a.route.yaml']!)) {
      const [method] = one;
      let answer: unknown;
      seconds[method] = await secondsOf(async () => (answer = await client.request(...one)));
      if (method.startsWith('routewright/'))
        expect(JSON.stringify(answer), method).toContain('This route is too large to work with.');
    }
    for (const [method, used] of Object.entries(seconds)) expect(used, method).toBeLessThan(mostSeconds);
  });
});

const routes = withinLimits.filter(({ name }) => name !== 'logs');

describe.each(routes)('as many $name as the limits allow', ({ files }) => {
  it('every request ends within two seconds, cancelled at the latest, and others are answered meanwhile', async () => {
    await serve(files);
    await client.diagnostics(uri, () => true);
    const late: string[] = [];
    const note = (what: string, used: number): void => {
      if (used >= mostSeconds) late.push(`${what}: ${used} s`);
    };
    for (const one of everything(files['a.route.yaml']!)) {
      const name = JSON.stringify(one);
      const slow = begin(one);
      for (let i = 0; i < quickRequests && !slow.ended; i++)
        note(`another request during ${name}`, await secondsOf(quick));
      slow.cancel();
      note(name, await secondsOf(() => slow.result));
    }
    expect(late).toEqual([]);
  });
});

describe('a ranking that takes long', () => {
  const { files } = withinLimits.find(({ name }) => name === 'uses that end the run')!;

  it('ends when it is cancelled, and lets other requests be answered before', async () => {
    await serve(files);
    await client.diagnostics(uri, () => true);
    const slow = begin(['routewright/rank', { uri }]);
    for (let i = 0; i < quickRequests; i++) {
      await quick();
      expect(slow.ended, `after quick request ${i + 1}`).toBe(false);
    }
    slow.cancel();
    // A cancelled request gets no result in any case: that its work ends is seen by when it is answered.
    for (let i = 0; i < quickRequests && !slow.ended; i++) await quick();
    expect(slow.ended).toBe(true);
    const end = await slow.result;
    expect(end).toBeInstanceOf(ResponseError);
    expect((end as ResponseError).code).toBe(LSPErrorCodes.RequestCancelled);
  });
});

describe('answers that are worked out in steps', () => {
  const samples = join(import.meta.dirname, '../../samples');
  const files = Object.fromEntries(
    readdirSync(samples)
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => [name, readFileSync(join(samples, name), 'utf8')]),
  );
  const route = 'lanternfall.route.yaml';
  const ofModel = (): readonly Asked[] =>
    everything(files[route]!, 'lens-align').filter(([method]) => method.startsWith('routewright/'));

  it('are the same to every digit when several are worked on in turns, and after one was given up', async () => {
    await serve(files, route);
    const alone: string[] = [];
    for (const one of ofModel()) alone.push(JSON.stringify(await client.request(...one)));
    expect(await server.stop()).toBe(0);
    rmSync(folder, { recursive: true });

    await serve(files, route);
    const givenUp = begin(['routewright/tonight', { uri }]);
    for (let i = 0; i < 3; i++) await quick();
    givenUp.cancel();
    await givenUp.result;
    const inTurns = await Promise.all(
      ofModel().map(async (one) => JSON.stringify(await client.request(...one))),
    );
    const withoutFolder = (text: string): string => text.replace(/long-work-\w+/g, '');
    expect(inTurns.map(withoutFolder)).toEqual(alone.map(withoutFolder));
  });

  it('are those of the model without steps', async () => {
    await serve(files, route);
    const { report } = (await client.request('routewright/rank', { uri })) as { report: unknown };
    const entries = Object.entries(files).map(([name, text]) => [`file:///t/${name}`, text] as const);
    const workspace = new Workspace(memoryFileSource(Object.fromEntries(entries)), ['file:///t']);
    await workspace.load();
    const project = workspace.projectOf(`file:///t/${route}`)!;
    const own = runnerFilesOf(project);
    if ('runners' in own) throw new Error('The sample has one runner.');
    const input = buildModelInput(project, own, { asOf: Date.parse(today) / 86_400_000 });
    const expected = rankReport(rank(input), input.asOfDay, techniqueNamesOf(project));
    expect(report).toEqual(JSON.parse(JSON.stringify(expected)));
  });
});
