import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { bundleServer, startProcess } from './server.ts';
import { rankRequest } from '../../server/src/protocol/messages/rank.ts';
import { harborRoute } from '../unit/lsp/editor.ts';

/** A clock that stands at 03:58 until there is a file `later` beside it, and then at 04:02; its intervals are short. */
const clock = `
const { existsSync } = require('node:fs');
const { join } = require('node:path');
const later = join(__dirname, 'later');
const now = () => new Date(2026, 10, 17, ...(existsSync(later) ? [4, 2] : [3, 58])).getTime();
const RealDate = Date;
globalThis.Date = class extends RealDate {
  constructor(...parts) { super(...(parts.length === 0 ? [now()] : parts)); }
  static now() { return now(); }
};
const every = globalThis.setInterval;
globalThis.setInterval = (run, ms, ...rest) => every(run, ms / 100, ...rest);
`;

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let folder: string;
beforeAll(async () => {
  bundle = await bundleServer('main');
  folder = await mkdtemp(join(tmpdir(), 'lsp-day-'));
  await writeFile(join(folder, 'clock.cjs'), clock);
});
afterAll(async () => {
  await bundle.remove();
  await rm(folder, { recursive: true, force: true });
});

it('wakes at the change of the runner’s day, for a client that sends no date and types nothing', async () => {
  const server = startProcess(bundle.file, { args: ['--require', join(folder, 'clock.cjs')] });
  const { client } = server;
  const log = 'file:///w/a.practice.yaml';
  const route = 'file:///w/a.route.yaml';
  await client.initialize(null);
  await client.open(route, harborRoute);
  await client.open(
    log,
    `route: a.route.yaml
sessions:
  - { start: 2026-11-17T19:30, blocks: [{ technique: lamp-hop, minutes: 25, landed: [20, 40] }] }
`,
  );
  const inFuture = (found: readonly { readonly code?: number | string }[]): boolean =>
    found.some(({ code }) => code === 'date-in-future');
  const [first] = await client.diagnostics(log, inFuture);
  expect(first!.message).toContain('2026-11-16');
  expect((await client.request(rankRequest, { uri: route })).title).toContain('2026-11-16');
  await writeFile(join(folder, 'later'), '');
  // Nothing is sent: the findings of the new day come by themselves.
  expect(await client.diagnostics(log, (found) => !inFuture(found))).toEqual([]);
  expect((await client.request(rankRequest, { uri: route })).title).toContain('2026-11-17');
  expect(await server.stop()).toBe(0);
});
