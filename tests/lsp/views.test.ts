import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  readRevisionRequest,
  type ReadRevisionParams,
} from '../../server/src/protocol/messages/clientFiles.ts';
import {
  compareRequest,
  oddsRequest,
  reviewRequest,
  type ViewResult,
} from '../../server/src/protocol/messages/views.ts';
import { bundleServer, startProcess, type RunningServer } from './server.ts';
import type { Request } from '../../server/src/protocol/messages/message.ts';

const samples = join(import.meta.dirname, '../../samples');
const route = pathToFileURL(join(samples, 'lanternfall.route.yaml')).href;
const routeText = readFileSync(join(samples, 'lanternfall.route.yaml'), 'utf8');

describe('the views in words, over stdio', () => {
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let server: RunningServer;
  const ask = <P>(type: Request<P, ViewResult>, params: NoInfer<P>) => server.client.request(type, params);

  beforeAll(async () => {
    bundle = await bundleServer('main');
    server = startProcess(bundle.file);
    await server.client.initialize(pathToFileURL(samples).href, { today: '2026-11-09' });
  }, 300_000);
  afterAll(async () => {
    expect(await server.stop()).toBe(0);
    await bundle.remove();
  });

  it('the odds of a run are a page', async () => {
    const result = await ask(oddsRequest, { uri: route });
    expect(result).toHaveProperty('markdown', expect.stringMatching(/^# Run odds: Lanternfall/));
  }, 300_000);

  it('the review names the slip of the sample', async () => {
    const result = await ask(reviewRequest, { uri: route.replace('.route.', '.runs.') });
    expect(result).toHaveProperty('markdown', expect.stringMatching(/## To work on again\n\n- Net climb: /));
  }, 300_000);

  it('a client that cannot read revisions is told so, and git is started by nobody', async () => {
    const params = { a: { uri: route, revision: 'HEAD' }, b: { uri: route } };
    expect(await ask(compareRequest, params)).toEqual({
      message: 'lanternfall.route.yaml at HEAD: This editor cannot read earlier versions.',
    });
  });

  it('asks the client for what it compares with', async () => {
    const asked: ReadRevisionParams[] = [];
    server.client.connection.onRequest(readRevisionRequest, (params) => {
      asked.push(params);
      return { text: routeText.replace('time: 1:32.4', 'time: 1:35.4') };
    });
    const params = { a: { uri: route, revision: 'v1' }, b: { uri: route } };
    const result = await ask(compareRequest, params);
    expect(asked).toEqual([{ uri: route, revision: 'v1' }]);
    expect(result).toHaveProperty('markdown', expect.stringMatching(/\| Harbor gate .*\| −3\.0 s \|/));
  }, 300_000);

  it('a file of no route gets a sentence', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'views-'));
    try {
      const uri = pathToFileURL(join(folder, 'shopping.txt')).href;
      expect(await ask(oddsRequest, { uri })).toHaveProperty('message');
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
