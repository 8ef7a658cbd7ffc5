import { existsSync, readFileSync, rmSync, symlinkSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { createMessageConnection, PortMessageReader, PortMessageWriter } from 'vscode-jsonrpc/node';
import { URI, Utils } from 'vscode-uri';
import { DidChangeWatchedFilesNotification } from 'vscode-languageserver-protocol';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { serveFiles } from '../../client/src/server/files.ts';
import { statusRequest } from '../../server/src/protocol/messages/findings.ts';
import { listFilesRequest, readFileRequest } from '../../server/src/protocol/messages/clientFiles.ts';
import { practice, route } from '../cli/place.ts';
import { secret, type StrangeFolder, strangeFolder, unreadable } from '../helpers/strangeFiles.ts';
import { browserShim, bundleServer, LspClient, startProcess, type RunningServer } from './server.ts';
import { waitUntil } from '../helpers/eventually.ts';

/** What the editor knows of a file: its bits of type, its size and its bytes. */
interface Entry {
  readonly type: number;
  readonly size?: number;
  readonly bytes?: Uint8Array;
  /** Whether the editor never answers when it is asked for the bytes. */
  readonly stuck?: boolean;
}

const editor = vi.hoisted(() => ({ files: new Map<string, Entry>(), read: [] as string[] }));
vi.mock('vscode', () => {
  class FileSystemError extends Error {
    readonly code = 'FileNotFound';
  }
  const entry = (uri: { toString(): string }): Entry => {
    const found = editor.files.get(uri.toString());
    if (!found) throw new FileSystemError('no such file');
    return found;
  };
  const fs = {
    readDirectory: (folder: { toString(): string }) =>
      Promise.resolve(
        [...editor.files].flatMap(([uri, { type }]) =>
          Utils.dirname(URI.parse(uri)).toString() === folder.toString()
            ? [[Utils.basename(URI.parse(uri)), type]]
            : [],
        ),
      ),
    stat: async (uri: URI) => ({ size: 0, ...(await Promise.resolve(entry(uri))) }),
    readFile: (uri: URI) => {
      editor.read.push(Utils.basename(uri));
      const { bytes, stuck } = entry(uri);
      return stuck === true ? new Promise(() => undefined) : Promise.resolve(bytes);
    },
  };
  return {
    Disposable: { from: () => undefined },
    FileSystemError,
    FileType: { Unknown: 0, File: 1, Directory: 2, SymbolicLink: 64 },
    Uri: { parse: (text: string) => URI.parse(text), joinPath: Utils.joinPath },
    workspace: { fs },
  };
});

const isUnread = (code: unknown) => code === 'file-not-read' || code === 'file-too-large';

/** The reason why each file was not read, by its name, as far as was published. */
function unreadIn(client: LspClient): Record<string, string> {
  return Object.fromEntries(
    [...client.published].flatMap(([uri, { diagnostics }]) =>
      diagnostics
        .filter(({ code }) => isUnread(code))
        .map(({ message }) => [
          Utils.basename(URI.parse(uri)),
          typeof message === 'string' ? message : message.value,
        ]),
    ),
  );
}

async function allUnread(client: LspClient, names: readonly string[]): Promise<Record<string, string>> {
  await waitUntil(() => names.every((name) => name in unreadIn(client)));
  return unreadIn(client);
}

describe('the server as a process, in a folder with files that are no files of text', () => {
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let strange: StrangeFolder;
  let server: RunningServer;
  beforeAll(async () => {
    bundle = await bundleServer('main');
  });
  afterAll(() => bundle.remove());
  beforeEach(() => {
    strange = strangeFolder();
    server = startProcess(bundle.file);
  });
  afterEach(async () => {
    expect(await server.stop()).toBe(0);
    strange.remove();
  });

  /** Memory at most of the server, in MB; 0 where the system does not say. */
  const megabytes = (): number => {
    const file = `/proc/${server.pid}/status`;
    const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
    return Number(/^VmHWM:\s*(\d+) kB/m.exec(text)?.[1] ?? 0) / 1024;
  };

  it('publishes a finding for each, answers, and shows nothing of what is outside', async () => {
    const folder = pathToFileURL(strange.folder).toString();
    await server.client.initialize(folder, { today: '2026-11-09' });
    const found = await allUnread(server.client, Object.keys(unreadable));
    for (const [name, reason] of Object.entries(unreadable)) expect(found[name], name).toContain(reason);
    expect(Object.keys(found).sort()).toEqual(Object.keys(unreadable).sort());
    await server.client.request(statusRequest, { uri: `${folder}/lanternfall.route.yaml` });
    expect(JSON.stringify(server.client.history)).not.toContain(secret);
    expect(megabytes()).toBeLessThan(400);
  });

  it('withdraws the finding once a file of text is in the place', async () => {
    const folder = pathToFileURL(strange.folder).toString();
    await server.client.initialize(folder, { today: '2026-11-09' });
    await allUnread(server.client, ['zero.practice.yaml']);
    const uri = `${folder}/zero.practice.yaml`;
    unlinkSync(join(strange.folder, 'zero.practice.yaml'));
    writeFileSync(join(strange.folder, 'zero.practice.yaml'), '');
    const changed = { changes: [{ uri, type: 2 as const }] };
    await server.client.connection.sendNotification(DidChangeWatchedFilesNotification.type, changed);
    const now = await server.client.diagnostics(uri, (all) => all.every(({ code }) => !isUnread(code)));
    expect(now.map(({ code }) => code)).toContain('empty-file');
  });

  it('reads no such file beside one that is opened without a folder', async () => {
    const at = (name: string) => join(strange.folder, name);
    for (const name of ['lanternfall.practice.yaml', 'lanternfall.route.yaml']) rmSync(at(name));
    symlinkSync('/dev/zero', at('lanternfall.practice.yaml'));
    symlinkSync(join(strange.outside, 'credentials'), at('lanternfall.week.yaml'));
    await server.client.initialize(null, { today: '2026-11-09' });
    const uri = pathToFileURL(at('lanternfall.route.yaml')).toString();
    await server.client.open(uri, route);
    const runs = pathToFileURL(at('above.runs.yaml')).toString();
    await server.client.open(runs, readFileSync(at('above.runs.yaml'), 'utf8'));
    const names = ['lanternfall.practice.yaml', 'lanternfall.week.yaml', 'secret.route.yaml'];
    const found = await allUnread(server.client, names);
    for (const name of names) expect(found[name]).toContain('it leads out of the folder');
    expect(JSON.stringify(server.client.history)).not.toContain(secret);
    expect(megabytes()).toBeLessThan(400);
  });
});

describe('the server in a browser’s worker, which reads through the editor', () => {
  const folder = 'memory://editor/routes';
  const bytes = (text: string) => new TextEncoder().encode(text);
  const file = (text: string): Entry => ({ type: 1, size: text.length, bytes: bytes(text) });
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let worker: Worker;
  let client: LspClient;

  beforeAll(async () => {
    bundle = await bundleServer('browser');
  });
  afterAll(() => bundle.remove());
  beforeEach(() => {
    editor.files.clear();
    editor.read.length = 0;
    worker = new Worker(browserShim, { eval: true, workerData: readFileSync(bundle.file, 'utf8') });
    client = new LspClient(
      createMessageConnection(new PortMessageReader(worker), new PortMessageWriter(worker)),
    );
  });
  afterEach(() => worker.terminate());

  const hold = (entries: Readonly<Record<string, Entry>>): void => {
    for (const [name, entry] of Object.entries(entries)) editor.files.set(`${folder}/${name}`, entry);
  };

  it('publishes a finding for each that is no file of text, and asks for the bytes of none', async () => {
    hold({
      'lanternfall.route.yaml': file(route),
      'lanternfall.practice.yaml': file(practice),
      'link.practice.yaml': { type: 1 | 64, size: 40, bytes: bytes(practice) },
      'pipe.practice.yaml': { type: 0 },
      'device.practice.yaml': { type: 64 },
      'large.practice.yaml': { type: 1, size: 20_000_001, bytes: bytes(practice) },
      'grown.practice.yaml': { type: 1, size: 10, bytes: new Uint8Array(20_000_001).fill(32) },
      'other.practice.yaml': { type: 1, size: 3, bytes: Uint8Array.from([0xff, 0xfe, 0x72]) },
    });
    serveFiles(client.connection);
    await client.initialize(folder, { today: '2026-11-09' });
    const reasons = {
      'link.practice.yaml': 'it is a link',
      'pipe.practice.yaml': 'it is a device',
      'device.practice.yaml': 'it is a link',
      'large.practice.yaml': 'it has 21 MB, and at most 20 MB',
      'grown.practice.yaml': 'it has 21 MB, and at most 20 MB',
      'other.practice.yaml': 'not UTF-8',
    };
    const found = await allUnread(client, Object.keys(reasons));
    for (const [name, reason] of Object.entries(reasons)) expect(found[name], name).toContain(reason);
    expect(Object.keys(found).sort()).toEqual(Object.keys(reasons).sort());
    expect([...editor.read].sort()).toEqual(
      ['grown', 'lanternfall', 'other']
        .map((name) => `${name}.practice.yaml`)
        .concat('lanternfall.route.yaml')
        .sort(),
    );
  });

  it('gives up what the editor does not give in time, and reads the others meanwhile', async () => {
    hold({ 'lanternfall.route.yaml': file(route), 'stuck.practice.yaml': { type: 1, stuck: true } });
    serveFiles(client.connection);
    await client.initialize(folder, { today: '2026-11-09' });
    const found = await allUnread(client, ['stuck.practice.yaml']);
    expect(found).toEqual({
      'stuck.practice.yaml': expect.stringContaining('did not give it within 10 seconds') as string,
    });
    const status = await client.request(statusRequest, { uri: `${folder}/lanternfall.route.yaml` });
    expect(JSON.stringify(status)).toContain('anternfall');
  });

  it('asks for a few files at a time, and gives the rest up where all of those are stuck', async () => {
    const names = Array.from({ length: 60 }, (_, i) => `${String(i).padStart(2, '0')}.practice.yaml`);
    let open = 0;
    let most = 0;
    let stuck = false;
    // None is answered before sixteen are asked for, and a little later: one more would come by then.
    let answer = (): void => undefined;
    const sixteen = new Promise<void>((resolve) => (answer = resolve));
    client.connection.onRequest(listFilesRequest, () => names.map((name) => `${folder}/${name}`));
    client.connection.onRequest(readFileRequest, async () => {
      most = Math.max(most, ++open);
      if (open === 16) setTimeout(answer, 50);
      await (stuck ? new Promise(() => undefined) : sixteen);
      open--;
      return practice;
    });
    await client.initialize(folder, { today: '2026-11-09' });
    await waitUntil(() => client.published.size === 60);
    expect(most).toBe(16);
    stuck = true;
    const changes = names.map((name) => ({ uri: `${folder}/${name}`, type: 2 as const }));
    await client.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes });
    const found = await allUnread(client, names);
    expect(Object.keys(found)).toHaveLength(60);
    expect(most).toBe(16);
  });
});
