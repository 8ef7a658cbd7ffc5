import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { hostileFiles, hostileFolder, pollution } from '../helpers/hostileFolder.ts';
import { type Deeds, record } from '../helpers/record.ts';
import type { StrangeFolder } from '../helpers/strangeFiles.ts';
import { secret } from '../helpers/strangeFiles.ts';
import { type Asked, askEverything } from './askEverything.ts';
import { bundleServer, startProcess } from './server.ts';

/** What the server did from its start to its end, in a folder that was written to do harm, asked for everything. */
let deeds: Deeds;
let asked: readonly Asked[];
let strange: StrangeFolder;

beforeAll(async () => {
  const bundle = await bundleServer('main');
  strange = hostileFolder();
  const recording = record();
  const server = startProcess(bundle.file, recording);
  const folder = pathToFileURL(strange.folder).toString();
  await server.client.initialize(folder, { today: '2026-11-09' });
  const all: Asked[] = [];
  for (const [name, text] of Object.entries(hostileFiles)) {
    await server.client.open(`${folder}/${name}`, text);
    all.push(...(await askEverything(server.client, `${folder}/${name}`, text, 23)));
  }
  asked = all;
  expect(await server.stop()).toBe(0);
  deeds = recording.deeds();
  recording.remove();
  await bundle.remove();
});
afterAll(() => strange.remove());

it('answers, and says nothing of the file outside', () => {
  expect(asked.length).toBeGreaterThan(500);
  for (const method of ['hover', 'completion', 'codeLens'].map((name) => `textDocument/${name}`))
    expect(
      asked.filter((one) => one.method === method && one.answer.length > 10).length,
      method,
    ).toBeGreaterThan(0);
  const ranked = asked.filter(({ method, answer }) => method === 'routewright/rank' && answer !== '');
  expect(ranked).toHaveLength(Object.keys(hostileFiles).length);
  expect(asked.filter(({ answer }) => answer.includes(secret))).toEqual([]);
});

it('starts no program', () => {
  expect(deeds.programs).toEqual([]);
  expect(existsSync(join(strange.folder, 'started'))).toBe(false);
});

it('opens no file outside the folder', () => {
  expect(deeds.opened.filter((path) => path.startsWith(strange.folder)).length).toBeGreaterThan(4);
  const theirs = deeds.opened.filter((path) => path.startsWith('/dev/') || path.startsWith(strange.outside));
  expect(theirs).toEqual([]);
});

it('gives no object a property that came from a file', () => {
  expect(deeds.inherited).toEqual([]);
  expect(asked.filter(({ answer }) => answer.includes(`"${pollution}":1`))).toEqual([]);
});
