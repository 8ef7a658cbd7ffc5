import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  readRevisionRequest,
  type ReadRevisionParams,
} from '../../server/src/protocol/messages/clientFiles.ts';
import { panelMarkdownRequest, panelRequest } from '../../server/src/protocol/messages/panel.ts';
import type { PanelView } from '../../server/src/protocol/panel/views.ts';
import { bundleServer, startProcess, type RunningServer } from './server.ts';

const samples = join(import.meta.dirname, '../../samples');
const route = pathToFileURL(join(samples, 'lanternfall.route.yaml')).href;
const routeText = readFileSync(join(samples, 'lanternfall.route.yaml'), 'utf8');

/** What the panel asks for. */
const panelParams = (uri: string, view: PanelView) => ({
  uri,
  view,
  technique: null,
  objective: 'time',
  wait: true,
});

describe('the views of a report, over stdio', () => {
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let server: RunningServer;

  beforeAll(async () => {
    bundle = await bundleServer('main');
    server = startProcess(bundle.file);
    await server.client.initialize(pathToFileURL(samples).href, { today: '2026-11-09' });
  });
  afterAll(async () => {
    expect(await server.stop()).toBe(0);
    await bundle.remove();
  });

  it('the odds of a run are a view that can be copied', async () => {
    const copied = await server.client.request(panelMarkdownRequest, panelParams(route, 'odds'));
    expect(copied).toMatch(/^# Lanternfall, any%, Wren, as of 2026-11-09\n\n## The odds of a run\n/);
  });

  it('the review names the slip of the sample', async () => {
    const params = panelParams(route.replace('.route.', '.runs.'), 'review');
    const { review } = await server.client.request(panelRequest, params);
    expect(review?.summary).toContain('Slipped: Net climb (landed 0 of 6, expected 82 %).');
    const copied = await server.client.request(panelMarkdownRequest, params);
    expect(copied).toMatch(/### To work on again\n\n- Net climb: /);
  });

  it('a client that cannot read revisions is told so, and git is started by nobody', async () => {
    const params = { ...panelParams(route, 'compare'), compared: { uri: route, revision: 'HEAD' } };
    const { message } = await server.client.request(panelRequest, params);
    expect(message).toBe('lanternfall.route.yaml at HEAD: This editor cannot read earlier versions.');
  });

  it('asks the client for what it compares with', async () => {
    const asked: ReadRevisionParams[] = [];
    server.client.connection.onRequest(readRevisionRequest, (params) => {
      asked.push(params);
      return { text: routeText.replace('time: 1:32.4', 'time: 1:35.4') };
    });
    const params = { ...panelParams(route, 'compare'), compared: { uri: route, revision: 'v1' } };
    const { compare } = await server.client.request(panelRequest, params);
    expect(asked).toEqual([{ uri: route, revision: 'v1' }]);
    const harbor = compare?.differences.rows.find(({ name }) => name === 'Harbor gate');
    expect(harbor?.words).toBe('3.0 s faster in B');
  });

  it('a file of no route gets a sentence', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'views-'));
    try {
      const uri = pathToFileURL(join(folder, 'shopping.txt')).href;
      const { message } = await server.client.request(panelRequest, panelParams(uri, 'odds'));
      expect(message).toMatch(/^This is not a route, practice, runs, week or pool file/);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
