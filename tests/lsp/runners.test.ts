import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runFormRequest } from '../../server/src/protocol/messages/logEntry.ts';
import { practiceOfferRequest } from '../../server/src/protocol/messages/practiceOffer.ts';
import { rankRequest } from '../../server/src/protocol/messages/rank.ts';
import { chosenRunnersNotification, whoseLogsRequest } from '../../server/src/protocol/messages/runners.ts';
import { bundleServer, startProcess, type RunningServer } from './server.ts';

const folder = pathToFileURL(join(import.meta.dirname, '../../samples')).href;
const route = `${folder}/lanternfall.route.yaml`;
const of = (runner: string, kind: string): string => `${folder}/runners/${runner}/lanternfall.${kind}.yaml`;

describe('the sample with its four runners, over stdio', () => {
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let server: RunningServer;

  beforeAll(async () => {
    bundle = await bundleServer('main');
    server = startProcess(bundle.file);
    await server.client.initialize(folder, { today: '2026-11-09' });
  });
  afterAll(async () => {
    expect(await server.stop()).toBe(0);
    await bundle.remove();
  });

  const whose = async (uri: string) => {
    const answer = await server.client.request(whoseLogsRequest, { uri });
    if ('message' in answer) throw new Error(answer.message);
    return answer;
  };
  /** The logs that a block and a run would go into. */
  const logsFor = async (uri: string) => {
    const offer = await server.client.request(practiceOfferRequest, { uri, plan: false });
    const form = await server.client.request(runFormRequest, { uri });
    if ('message' in offer) throw new Error(offer.message);
    if ('message' in form) throw new Error(form.message);
    return [offer.practice, form.runs];
  };

  it('is about the one beside the route, and about another one in a file of theirs', async () => {
    expect(await whose(route)).toMatchObject({
      counts: { runner: 'Wren' },
      problem: null,
      reason: 'The logs of Wren count: nobody else has files beside the route.',
    });
    for (const kind of ['practice', 'runs', 'week'])
      expect(await whose(of('oda', kind))).toMatchObject({ counts: { runner: 'Oda' }, chosen: false });
    const first = async (uri: string) => {
      const { lines } = await server.client.request(rankRequest, { uri });
      return lines[0]?.gain;
    };
    expect(await first(of('oda', 'week'))).not.toBe(await first(route));
  });

  it('has blocks and runs go into the files of the same runner', async () => {
    expect(await logsFor(route)).toEqual([
      { uri: `${folder}/lanternfall.practice.yaml`, begin: null },
      { uri: `${folder}/lanternfall.runs.yaml`, begin: null },
    ]);
    for (const kind of ['practice', 'runs', 'week'])
      expect(await logsFor(of('tam', kind))).toEqual([
        { uri: of('tam', 'practice'), begin: null },
        { uri: of('tam', 'runs'), begin: null },
      ]);
  });

  it('is about the runner who is chosen for the folder, whichever file is asked about', async () => {
    await server.client.connection.sendNotification(chosenRunnersNotification, {
      runners: { [folder]: 'Pim' },
    });
    for (const uri of [route, of('oda', 'practice'), of('pim', 'runs')]) {
      expect(await whose(uri)).toMatchObject({ counts: { runner: 'Pim' }, chosen: true });
      expect(await logsFor(uri)).toEqual([
        { uri: of('pim', 'practice'), begin: null },
        { uri: of('pim', 'runs'), begin: null },
      ]);
    }
    await server.client.connection.sendNotification(chosenRunnersNotification, { runners: {} });
    expect(await whose(route)).toMatchObject({ counts: { runner: 'Wren' }, chosen: false });
  });

  it('has no finding in any log or week file', async () => {
    const text = '# Nothing yet.\n';
    const made = `${folder}/made.route.yaml`;
    await server.client.open(made, text);
    await server.client.diagnostics(made, (diagnostics) => diagnostics.length > 0);
    const found = [...server.client.published].filter(([uri, { diagnostics }]) => {
      return !uri.endsWith('.route.yaml') && diagnostics.length > 0;
    });
    expect(found).toEqual([]);
  });
});
