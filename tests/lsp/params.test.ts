import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as findings from '../../server/src/protocol/messages/findings.ts';
import * as logEntry from '../../server/src/protocol/messages/logEntry.ts';
import * as logTable from '../../server/src/protocol/messages/logTable.ts';
import * as panel from '../../server/src/protocol/messages/panel.ts';
import * as pasteTable from '../../server/src/protocol/messages/pasteTable.ts';
import * as practiceBlock from '../../server/src/protocol/messages/practiceBlock.ts';
import * as practiceOffer from '../../server/src/protocol/messages/practiceOffer.ts';
import * as rank from '../../server/src/protocol/messages/rank.ts';
import * as runners from '../../server/src/protocol/messages/runners.ts';
import * as starter from '../../server/src/protocol/messages/starter.ts';
import * as tonight from '../../server/src/protocol/messages/tonight.ts';
import * as week from '../../server/src/protocol/messages/week.ts';
import { Request } from '../../server/src/protocol/messages/message.ts';
import { bundleServer, startProcess, type RunningServer } from './server.ts';

/** The methods of every request that the server answers. */
const methods = [
  findings,
  logEntry,
  logTable,
  panel,
  pasteTable,
  practiceBlock,
  practiceOffer,
  rank,
  runners,
  starter,
  tonight,
  week,
].flatMap((module) =>
  Object.values<unknown>(module).flatMap((value) => (value instanceof Request ? [value.method] : [])),
);

describe('params that do not fit', () => {
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let server: RunningServer;

  beforeAll(async () => {
    bundle = await bundleServer('main');
    server = startProcess(bundle.file);
    await server.client.initialize(null);
  });
  afterAll(async () => {
    await server.stop();
    await bundle.remove();
  });

  it.each(methods)('of %s are answered by a place', async (method) => {
    // No request takes numbers for names.
    const params = { uri: 7, game: 7, a: 7, b: 7 };
    await expect(server.client.request(method, params)).rejects.toMatchObject({
      code: -32602,
      message: expect.stringMatching(new RegExp(`^${method}: params\\.\\w+ must be `)) as unknown,
    });
  });

  it('are looked for in every request of ours', () => {
    expect(methods.length).toBeGreaterThan(18);
  });
});
