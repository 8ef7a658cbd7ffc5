import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import { correctCycle } from '../../../../server/src/lsp/practice/correctCycle.ts';
import { practiceOffer } from '../../../../server/src/lsp/practice/practiceOffer.ts';
import { panelData, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { logBlock, logRun } from '../../../../server/src/lsp/practice/completeEntries.ts';
import type { LogRunParams } from '../../../../server/src/protocol/messages/logEntry.ts';
import type { TextDocumentEdit, TextEdit } from 'vscode-languageserver';
import { neverStopped, edited, harborRoute, openEditor, uriOf } from '../editor.ts';
import { desk, sitDown, webJournals, type Desk, type Sitting } from './desk.ts';

async function offerAt(at: Desk, sitting: Sitting, asked = 'a.route.yaml', plan = true) {
  const params = { uri: at.uri(asked), plan };
  return practiceOffer(sitting.services, sitting.services.panelReports, sitting.logs, params, neverStopped);
}

describe('what is offered', () => {
  it('is the first block of what today has left in the plan, and every technique', async () => {
    // 2026-11-25, the desk's today, is a Wednesday. P: any calendar.
    const at = desk({ 'a.week.yaml': 'route: a.route.yaml\ndays: { wed: 50, thu: 50 }\nblock: 25\n' });
    const sitting = await sitDown(at);
    const offer = await offerAt(at, sitting);
    if ('message' in offer) throw new Error(offer.message);
    expect(offer.route).toBe('Lanternfall, any%');
    expect(offer.techniques.map(({ technique }) => technique)).toEqual([
      'crate-vault',
      'lamp-clip',
      'lamp-hop',
    ]);
    expect(offer.next?.technique).toBeOneOf(['crate-vault', 'lamp-hop']);
    expect(offer.next?.minutes).toBeGreaterThanOrEqual(20);
    expect(offer.practice).toEqual({ uri: at.uri('a.practice.yaml'), begin: null });
    sitting.end();
  });

  it('has the practice set first, what is to work on again before the rest, each with its standing', async () => {
    const log = (date: number, of: string, count: string) =>
      `  - { start: 2026-11-${date}T19:00, blocks: [{ technique: ${of}, minutes: 25, landed: [${count}] }] }\n`;
    const evening = (date: number) =>
      `  - { start: 2026-11-${date}T20:00, started: 9, tried: { lamp-hop: [${date < 21 ? 9 : 0}, 9] } }\n`;
    const at = desk({
      'a.practice.yaml': `route: a.route.yaml\nsessions:\n${log(21, 'lamp-clip', '5, 90')}${log(22, 'lamp-clip', '7, 90')}`,
      'a.runs.yaml': `route: a.route.yaml\nruns:\n${[10, 11, 12, 13, 21, 22, 23].map(evening).join('')}`,
    });
    const sitting = await sitDown(at);
    const offer = await offerAt(at, sitting, 'a.route.yaml', false);
    if ('message' in offer) throw new Error(offer.message);
    expect(
      offer.techniques.map(({ technique, standing, standingText, inSet }) => [
        technique,
        standing,
        standingText,
        inSet,
      ]),
    ).toEqual([
      ['lamp-hop', 'again', 'to work on again', true],
      ['lamp-clip', 'learning', 'being learned', true],
      ['crate-vault', 'not-begun', 'not begun', false],
    ]);
    sitting.end();
  });

  it('has no planned block on a day without minutes, nor once its minutes are practised', async () => {
    const none = desk({ 'a.week.yaml': 'route: a.route.yaml\ndays: { thu: 50 }\n' });
    const idle = await sitDown(none);
    expect(await offerAt(none, idle)).toMatchObject({ next: null });
    idle.end();
    const done = desk({
      'a.week.yaml': 'route: a.route.yaml\ndays: { wed: 50 }\n',
      'a.practice.yaml':
        'route: a.route.yaml\nsessions:\n  - start: 2026-11-25T17:00\n    blocks: [{ technique: lamp-hop, minutes: 50, landed: [20, 60] }]\n',
    });
    const tired = await sitDown(done);
    expect(await offerAt(done, tired)).toMatchObject({ next: null, minutesToday: 50 });
    tired.end();
  });

  it('takes the file asked about, else the log with the latest entry', async () => {
    const log = (date: string) =>
      `route: a.route.yaml\nsessions:\n  - start: ${date}T19:00\n    blocks: [{ technique: lamp-hop, minutes: 20 }]\n`;
    const at = desk({ 'a.practice.yaml': log('2026-09-01'), 'october.practice.yaml': log('2026-10-01') });
    const sitting = await sitDown(at);
    expect(await offerAt(at, sitting, 'a.route.yaml', false)).toMatchObject({
      practice: { uri: at.uri('october.practice.yaml') },
    });
    expect(await offerAt(at, sitting, 'a.practice.yaml', false)).toMatchObject({
      practice: { uri: at.uri('a.practice.yaml') },
    });
    sitting.end();
  });

  it('has a word on hands after a day of more than two hours, and says who is to be asked', async () => {
    const block = '{ technique: lamp-hop, minutes: 45 }';
    const at = desk({
      'a.practice.yaml': `route: a.route.yaml\nsessions:\n  - start: 2026-11-24T17:00\n    blocks: [${block}, ${block}, ${block}]\n`,
    });
    const sitting = await sitDown(at);
    const offer = await offerAt(at, sitting, 'a.route.yaml', false);
    expect('caution' in offer && offer.caution).toMatch(/clinician/);
    sitting.end();
  });

  it('promises less on the web, and says so', async () => {
    const at = desk();
    const [disk, web] = [await sitDown(at), await sitDown(at, webJournals())];
    expect(await offerAt(at, disk, 'a.route.yaml', false)).toMatchObject({
      promise: expect.stringContaining('even if the editor crashes') as string,
    });
    expect(await offerAt(at, web, 'a.route.yaml', false)).toMatchObject({
      promise: expect.stringContaining('kept at once in this browser') as string,
    });
    disk.end();
    web.end();
  });
});

describe('correcting a cycle', () => {
  async function corrected(route: string, cycle: number): Promise<string> {
    const { services, text } = await openEditor({ 'a.route.yaml': route });
    const { edit } = correctCycle(services, { uri: uriOf('a.route.yaml'), technique: 'crate-vault', cycle });
    const changes = (edit?.documentChanges ?? []) as TextDocumentEdit[];
    return edited(
      text('a.route.yaml'),
      changes.flatMap(({ edits }) => edits as TextEdit[]),
    );
  }
  const withPractice = (practice: string): string =>
    harborRoute.replace('was: [box-jump]', `was: [box-jump], practice: ${practice}`);

  it('changes the way back, and the attempt where that alone is longer', async () => {
    const route = withPractice('{ attempt: 4, reload: 1, from: quay }');
    expect(await corrected(route, 9.5)).toBe(withPractice('{ attempt: 4, reload: 5.5, from: quay }'));
    expect(await corrected(route, 3)).toBe(withPractice('{ attempt: 2, reload: 1, from: quay }'));
  });

  it('adds what the route does not say yet', async () => {
    // The attempt's default is 5 s, as the route's schema states.
    expect(await corrected(harborRoute, 12)).toContain('practice: { reload: 7 }');
    expect(await corrected(withPractice('{ attempt: 4 }'), 12)).toContain(
      'practice: { attempt: 4, reload: 8 }',
    );
  });
});

describe('a block logged whole', () => {
  const params = { technique: 'crate-vault', minutes: '25', result: '12/20', start: '', dry: false };

  it.each([
    ['25', '12/20', 'minutes: 25, landed: [12, 20]'],
    ['12:30', 'LMMl', 'minutes: 12.5, tape: lmml'],
    ['20', '', 'minutes: 20 }'],
    ['20', '3 of 8', 'landed: [3, 8]'],
  ])('of %s min with %s goes into the file', async (minutes, result, written) => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open('a.practice.yaml');
    const uri = at.uri('a.practice.yaml');
    const answer = await logBlock(sitting.services, sitting.logs, { ...params, uri, minutes, result });
    expect(answer).toMatchObject({ id: expect.stringMatching(/^b-/) as string });
    expect(sitting.text('a.practice.yaml')).toContain(written);
    sitting.end();
  });

  it.each([
    ['x', ''],
    ['0', ''],
    ['2000', ''],
    ['25', '21/20'],
    ['25', 'lx'],
    ['25', '-1/4'],
  ])('of %s min with %s is refused, and nothing is written', async (minutes, result) => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open('a.practice.yaml');
    const before = sitting.text('a.practice.yaml');
    const uri = at.uri('a.practice.yaml');
    expect(
      await logBlock(sitting.services, sitting.logs, { ...params, uri, minutes, result }),
    ).toHaveProperty('message');
    expect(await logBlock(sitting.services, sitting.logs, { ...params, uri, dry: true })).toEqual({
      id: null,
      said: '',
      outcome: '',
    });
    expect(sitting.text('a.practice.yaml')).toBe(before);
    sitting.end();
  });

  it.each([
    ['2026-11-20', "- start: '?2026-11-20'?\n"],
    ['2026-11-20 19:30', '- start: 2026-11-20T19:30\n'],
    [' 2026-11-20T19:30 ', '- start: 2026-11-20T19:30\n'],
  ])('can have begun on %s', async (start, line) => {
    const at = desk();
    const sitting = await sitDown(at);
    await sitting.open('a.practice.yaml');
    const uri = at.uri('a.practice.yaml');
    const answer = await logBlock(sitting.services, sitting.logs, { ...params, uri, start });
    expect(answer).toMatchObject({ id: expect.stringMatching(/^b-/) as string });
    expect(sitting.text('a.practice.yaml')).toMatch(new RegExp(line));
    sitting.end();
  });

  it.each(['yesterday', '2026-13-01', '04.10.2026', '2126-11-26', '2126-01-01T10:00'])(
    'that began on %s is refused, and nothing is written',
    async (start) => {
      const at = desk();
      const sitting = await sitDown(at);
      await sitting.open('a.practice.yaml');
      const before = sitting.text('a.practice.yaml');
      const uri = at.uri('a.practice.yaml');
      expect(await logBlock(sitting.services, sitting.logs, { ...params, uri, start })).toHaveProperty(
        'message',
      );
      expect(sitting.text('a.practice.yaml')).toBe(before);
      sitting.end();
    },
  );

  it('that is still to come begins no log', async () => {
    const at = desk({ 'b.route.yaml': harborRoute });
    const sitting = await sitDown(at);
    const block = { ...params, uri: at.uri('b.route.yaml') };
    expect(await logBlock(sitting.services, sitting.logs, block)).toHaveProperty('begin');
    expect(
      await logBlock(sitting.services, sitting.logs, { ...block, start: '2126-11-26' }),
    ).not.toHaveProperty('begin');
    sitting.end();
  });
});

describe('a run logged whole', () => {
  const runs = 'route: a.route.yaml\nruns: []\n';
  const run: Omit<LogRunParams, 'uri'> = {
    start: '',
    total: '',
    times: [],
    tried: [],
    ended: null,
    on: '',
  };
  const landedOnce = (use: string) => ({ use, landed: 1, tries: 1 });
  const missedOnce = (use: string) => ({ use, landed: 0, tries: 1 });

  // Practised before the run, so that the run tells of the technique and not of practice that nobody logged.
  const practised =
    'route: a.route.yaml\nsessions:\n  - start: 2026-11-23T19:00\n    blocks: [{ technique: lamp-hop, minutes: 25, landed: [40, 90] }]\n';

  async function logged(params: Partial<LogRunParams>) {
    const at = desk({ 'a.runs.yaml': runs, 'a.practice.yaml': practised });
    const sitting = await sitDown(at);
    await sitting.open('a.runs.yaml');
    const uri = at.uri('a.runs.yaml');
    const answer = await logRun(sitting.services, sitting.logs, { ...run, uri, ...params });
    return { answer, text: sitting.text('a.runs.yaml'), sitting, uri };
  }

  it('has a total, times in the order of the route, what was tried, and where it ended', async () => {
    const whole = await logged({
      total: '3:30.5',
      tried: [landedOnce('crate-vault'), missedOnce('lamp-hop')],
    });
    expect(whole.text).toMatch(/total: 3:30\.5, tried: \{ crate-vault: \[1, 1\], lamp-hop: \[0, 1\] \}/);
    whole.sitting.end();
    const split = await logged({ times: [{ segment: 'harbor', time: ' 1:31.8 ' }] });
    expect(split.text).toContain('times: { harbor: 1:31.8 }');
    split.sitting.end();
    const early = await logged({ ended: { at: 'rope-yard', why: 'miss', by: 'lamp-hop' } });
    expect(early.text).toContain('ended: { at: rope-yard, why: miss, by: lamp-hop }');
    early.sitting.end();
  });

  it('begins where it is said, and one technique in two segments is one entry', async () => {
    const whole = await logged({
      start: '2026-11-24T18:05',
      total: '3:30',
      tried: [landedOnce('lamp-hop'), missedOnce('lamp-hop')],
      on: 'console',
    });
    expect(whole.text).toMatch(
      /start: 2026-11-24T18:05, total: 3:30, tried: \{ lamp-hop: \[1, 2\] \}, on: console/,
    );
    whole.sitting.end();
  });

  it.each<Partial<LogRunParams>>([
    {},
    { total: '3:99' },
    { times: [{ segment: 'bell-tower', time: '1:30' }] },
    { times: [{ segment: 'harbor', time: 'later' }] },
    { total: '3:30', start: 'yesterday' },
    { total: '3:30', start: '2026-11-24' },
    { total: '3:30', tried: [{ use: 'lamp-hop', landed: 2, tries: 1 }] },
  ])('is refused as %j, and nothing is written', async (params) => {
    const { answer, text, sitting } = await logged(params);
    expect(answer).toHaveProperty('message');
    expect(text).toBe(runs);
    sitting.end();
  });

  it('is told by what it changed: the landing rate of what it tried, and nothing of the others', async () => {
    const { answer, sitting, uri } = await logged({ total: '3:30', tried: [missedOnce('lamp-hop')] });
    const id = 'id' in answer ? (answer.id ?? '') : '';
    await sitting.services.sync.ready();
    const look = { view: 'after', technique: null, run: id, objective: 'time' } as const;
    const params = { uri, ...look, wait: true };
    const markdown = runToCompletion(panelMarkdownHandler(sitting.services)(params));
    expect(markdown).toContain('The run tried lamp-hop');
    const row = markdown.split('\n').find((line) => line.includes('0/1')) ?? '';
    const [before, now] = [...row.matchAll(/(\d+)[\s\u00a0]%[\s\u00a0]?\(/g)].map(([, share]) =>
      Number(share),
    );
    // A miss lowers the estimate of what was missed: any rule of learning from counts says so. P
    expect(now).toBeLessThan(before!);
    expect(markdown).not.toContain('Crate vault');
    // The run is the only one with a total, so the usual is what the route and the practice say.
    const { after } = runToCompletion(panelData(sitting.services, params));
    expect(after?.run).toBe(id);
    expect(after?.summary).toMatch(/^The run took 3:30\.0, /);
    // A run that is no more is not shown: the last one is.
    const other = runToCompletion(panelData(sitting.services, { ...params, run: 'r-none' }));
    expect(other.after?.run).toBe(id);
    sitting.end();
  });
});
