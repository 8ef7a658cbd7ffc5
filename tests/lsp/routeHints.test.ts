import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { CodeLensRequest } from 'vscode-languageserver-protocol';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { bundleServer, startProcess } from './server.ts';

const samples = join(import.meta.dirname, '../../samples');
const folder = pathToFileURL(samples).href;
const uri = `${folder}/lanternfall.route.yaml`;

let bundle: Awaited<ReturnType<typeof bundleServer>>;
beforeAll(async () => (bundle = await bundleServer('main')));
afterAll(() => bundle.remove());

it('a lens says a landing rate only where the client told that no hint does', async () => {
  const { client, stop } = startProcess(bundle.file);
  await client.initialize(folder, { today: '2026-11-09', showsRouteHints: true });
  await client.open(uri, await readFile(join(samples, 'lanternfall.route.yaml'), 'utf8'));
  const withRates = async (): Promise<number> => {
    const lenses = await client.request(CodeLensRequest.type, { textDocument: { uri } });
    expect(lenses!.length).toBeGreaterThan(20);
    return lenses!.filter(({ command }) => /lands [<>]?\d+ %/.test(command!.title)).length;
  };
  expect(await withRates()).toBe(0);
  await client.connection.sendNotification('routewright/routeHints', { shown: false });
  expect(await withRates()).toBeGreaterThan(3);
  // What is no answer changes nothing.
  await client.connection.sendNotification('routewright/routeHints', { shown: 'perhaps' });
  expect(await withRates()).toBeGreaterThan(3);
  await client.connection.sendNotification('routewright/routeHints', { shown: true });
  expect(await withRates()).toBe(0);
  expect(await stop()).toBe(0);
});
