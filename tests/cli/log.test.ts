import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openJournal } from '../../server/src/journal/journal.ts';
import { Desk, empty, started } from '../helpers/desk.ts';
import { runRowsOf } from '../helpers/runsTable.ts';
import { practice, route, routewright } from './place.ts';

describe('attempts', () => {
  test('a block from start to end, with the technique left out once it is open', async () => {
    const desk = new Desk();
    expect((await desk.log('crate-vault', '--start')).out).toBe('Crate vault: block begun.\n');
    desk.clock.pass(5);
    expect((await desk.log('--landed')).out).toBe('Crate vault: landed. This block: 1 of 1.\n');
    desk.clock.pass(5);
    expect((await desk.log('--missed')).out).toBe('Crate vault: missed. This block: 1 of 2.\n');
    expect((await desk.log('--undo')).out).toBe(
      'Crate vault: the last attempt (missed) is taken back. This block: 1 of 1.\n',
    );
    expect(desk.text()).toBe(empty);
    desk.clock.pass(50);
    expect((await desk.log('--end')).out).toBe(
      'Crate vault: block ended. This block: 1 of 1.\nInto lanternfall.practice.yaml: Crate vault, 1 min, 1 of 1 landed.\n',
    );
    expect(desk.text()).toMatch(
      /^route: lanternfall\.route\.yaml\nsessions:\n {2}- start: 2026-10-05T19:30\n {4}blocks:\n {6}- \{ id: b-\w{12}, technique: crate-vault, minutes: 1, tape: l \}\n$/,
    );
    expect((await routewright(desk.folder, ['check'])).out).not.toContain('error');
  });

  test('a folder with a route is named alone once a block is open, and beside the technique before', async () => {
    const desk = new Desk({
      'samples/lanternfall.route.yaml': route,
      'samples/lanternfall.practice.yaml': empty,
    });
    expect((await desk.log('samples', 'crate-vault', '--start')).out).toBe('Crate vault: block begun.\n');
    expect(await desk.log('samples', '--landed')).toEqual({
      code: 0,
      out: 'Crate vault: landed. This block: 1 of 1.\n',
      err: '',
    });
    desk.clock.pass(60);
    expect((await desk.log('samples', '--end')).err).toBe('');
    await desk.log('wall-kick', 'samples', '--start');
    desk.clock.pass(60);
    expect((await desk.log('samples', '--end', '--landed', '7', '--tries', '9')).err).toBe('');
    expect(desk.text('samples/lanternfall.practice.yaml')).toMatch(
      /crate-vault.*tape: l .*\n.*wall-kick.*landed: \[7, 9\]/,
    );
  });

  test('a block nobody ended goes into the file when the next begins, or after half an hour', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    desk.clock.pass(60);
    expect((await desk.log('wall-kick', '--missed')).out).toContain(
      'Into lanternfall.practice.yaml: Crate vault',
    );
    desk.clock.pass(31 * 60);
    expect((await desk.log()).out).toContain('Into lanternfall.practice.yaml: Wall kick');
    expect(desk.text().match(/start:/g)).toHaveLength(1);
  });

  test('a block begun and left without a word is nothing; one begun and ended is its time', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--start');
    desk.clock.pass(600);
    await desk.log('wall-kick', '--start');
    desk.clock.pass(600);
    await desk.log('--end');
    expect(desk.text()).toMatch(/blocks:\n.*technique: wall-kick, minutes: 10 \}\n$/);
  });

  test('undo after the end takes the attempt out of the file', async () => {
    const desk = new Desk();
    for (const what of ['--landed', '--missed']) await desk.log('crate-vault', what);
    await desk.log('--end');
    expect((await desk.log('--undo')).out).toBe(
      'Crate vault: the last attempt (missed) is taken back.\n1 block in lanternfall.practice.yaml shortened by what was taken back.\n',
    );
    expect(desk.text()).toContain('tape: l }');
    await desk.log('--undo');
    expect(desk.text()).not.toContain('crate-vault');
    expect(await desk.log('--undo')).toMatchObject({ code: 2, err: 'There is nothing to take back.\n' });
  });

  test('JSON carries the entry and the file, and nothing else is on stdout', async () => {
    const desk = new Desk();
    const { out } = await desk.log('crate-vault', '--landed', '--json');
    expect(JSON.parse(out)).toMatchObject({
      entry: { kind: 'attempt', technique: 'crate-vault', landed: true, local: '2026-10-05T19:30' },
      file: 'lanternfall.practice.yaml',
      block: { landed: 1, tries: 1 },
    });
    expect(JSON.parse((await desk.log('--end', '--json')).out)).toMatchObject({ entry: { kind: 'end' } });
  });

  test('an unknown technique: the nearest name, and nothing written', async () => {
    const desk = new Desk();
    const said = await desk.log('crate-valt', '--landed');
    expect(said).toEqual({
      code: 2,
      out: '',
      err: 'The route has no technique crate-valt. Did you mean crate-vault? Nothing was logged.\n',
    });
    expect((await desk.log('--landed')).err).toContain('No block is open, so say which technique');
    expect((await desk.log()).out).toBe('Nothing waits in the journal.\n');
  });

  test('a technique new in the route is known at once, and a former name counts for the new one', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    writeFileSync(
      join(desk.folder, 'lanternfall.route.yaml'),
      route
        .replace('crate-vault: { name: Crate vault', 'hull-hop: { was: [crate-vault], name: Hull hop')
        .replace('[crate-vault]', '[hull-hop]'),
    );
    expect((await desk.log('hull-hop', '--landed')).out).toContain('Hull hop: landed.');
    expect((await desk.log('crate-vault', '--landed')).out).toContain(
      'Hull hop: landed. This block: 2 of 2.',
    );
  });

  test('after a change of the route, only routes and weeks are read again', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    const log = join(desk.folder, 'lanternfall.practice.yaml');
    // What would stop a reading of the log; folding minds it, logging does not.
    writeFileSync(log, 'route: no-such.route.yaml\nsessions: [\n');
    writeFileSync(
      join(desk.folder, 'lanternfall.route.yaml'),
      route.replace('wall-kick: { name: Wall kick', 'rope-swing: { name: Rope swing'),
    );
    expect((await desk.log('rope-swing', '--landed')).out).toContain('Rope swing: landed.');
    expect((await desk.log('wall-kick', '--landed')).err).toContain('has no technique wall-kick');
    writeFileSync(log, empty);
    expect((await desk.log('--end')).out).toContain('Into lanternfall.practice.yaml: Rope swing');
    expect(desk.text().match(/tape: l /g)).toHaveLength(2);
  });

  test('a route that extends another from now on is read with it', async () => {
    const desk = new Desk();
    const file = 'lanternfall.route.yaml';
    await desk.log('crate-vault', '--landed', file);
    writeFileSync(
      join(desk.folder, file),
      'game: Lanternfall\ncategory: glass\nextends: base/base.route.yaml\n',
    );
    const base = join(desk.folder, 'base');
    mkdirSync(base);
    writeFileSync(
      join(base, 'base.route.yaml'),
      route.replaceAll('wall-kick', 'net-climb').replace('Wall kick', 'Net climb'),
    );
    expect((await desk.log('net-climb', '--landed', file)).out).toContain('Net climb: landed.');
  });

  test('of several logs, the one with the latest entry is gone on with; a route without one gets one', async () => {
    const desk = new Desk({
      'lanternfall.route.yaml': route,
      'a.practice.yaml': practice,
      'b.practice.yaml': practice.replaceAll('2026-10', '2026-09'),
    });
    await desk.log('crate-vault', '--tape', 'lm');
    expect(desk.text('a.practice.yaml')).toContain('tape: lm');
    rmSync(join(desk.folder, 'a.practice.yaml'));
    await desk.log('crate-vault', '--tape', 'ml');
    expect(desk.text('b.practice.yaml')).toContain('tape: ml');
    rmSync(join(desk.folder, 'b.practice.yaml'));
    await desk.log('crate-vault', '--tape', 'll');
    expect(desk.text()).toMatch(/^route: lanternfall\.route\.yaml\nsessions:\n/);
  });

  test('while an editor has the file open, the file is left to it', async () => {
    const desk = new Desk();
    const editor = openJournal(join(desk.folder, 'lanternfall.practice.yaml'), {
      state: join(desk.state, 'routewright'),
      clock: desk.clock,
      writer: 'editor-1',
    });
    if ('reason' in editor) throw new Error(editor.reason);
    editor.markOpen();
    await desk.log('crate-vault', '--landed');
    expect((await desk.log('--end')).out).toContain(
      'lanternfall.practice.yaml is open in an editor, which takes it up',
    );
    expect(desk.text()).toBe(empty);
    editor.close();
    await desk.log();
    expect(desk.text()).toContain('tape: l }');
  });
});

describe('blocks logged whole', () => {
  test('two numbers, with the minutes given or taken from the cycle', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed', '12', '--tries', '20', '--minutes', '15', '--on', 'emulator');
    expect(desk.text()).toMatch(
      /start: 2026-10-05T19:15\n.*\n.*technique: crate-vault, minutes: 15, landed: \[12, 20\], on: emulator \}/,
    );
    const said = await desk.log('wall-kick', '--landed=3', '--tries=9', '--at', '2026-10-06T18:00');
    expect(said.out).toContain('Taken to have lasted');
    expect(desk.text()).toMatch(/start: 2026-10-06T18:00\n.*\n.*landed: \[3, 9\] \}/);
  });

  test('the end of a block with the counts that the runner kept', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--start');
    desk.clock.pass(20 * 60);
    await desk.log('--end', '--landed', '8', '--tries', '30');
    expect(desk.text()).toContain('minutes: 20, landed: [8, 30] }');
    await desk.log('--undo');
    expect(desk.text()).not.toContain('crate-vault');
  });

  test('undo takes a block logged whole out again', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--minutes', '25');
    expect(desk.text()).toContain('minutes: 25 }');
    await desk.log('--undo');
    expect(desk.text()).not.toContain('crate-vault');
  });

  test.each([
    [['--landed', '3'], 'needs both numbers'],
    [['crate-vault', '--landed', '5', '--tries', '3'], 'no more than 3 can land'],
    [['crate-vault', '--landed', '--missed'], 'do not go together'],
    [['crate-vault', '--tape', 'lxm'], 'one letter an attempt'],
    [['--tape', 'lm'], 'Say which technique'],
    [['crate-vault'], 'Say what to log'],
    [['crate-vault', '--landed', '--at', '2026-10-05T19:00'], 'is given no time'],
    [['crate-vault', '--minutes', '-3'], 'needs a value'],
    [['crate-vault', '--minutes', 'long'], 'Minutes are a number'],
    [['crate-vault', '--end'], 'No block of Crate vault is open'],
    [['--tape', 'l', '--at', 'soon', 'crate-vault'], 'a date and time'],
    [['crate-vault', '--landed', '--dry-run'], '--dry-run goes with --import. Nothing was logged.'],
    [['crate-vault', '--landed', '--tried', 'wall-kick=1/2'], '--tried goes with --run.'],
    [
      ['--run', '--total', '3:40', '--tried', 'crate-vault@tower=1/2'],
      'The route has no use crate-vault@tower.',
    ],
  ])('%j is wrong use', async (argv, words) => {
    const desk = new Desk();
    const { code, out, err } = await desk.log(...argv);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(words);
    expect(desk.text()).toBe(empty);
  });
});

describe('runs', () => {
  test('a run with times, tries and an end', async () => {
    const desk = new Desk();
    const said = await desk.log(
      ...['--run', '--times', 'harbor=1:31.8', '--tried', 'crate-vault=1/2,wall-kick=0/1'],
      ...['--ended', 'stairs:miss:wall-kick', '--at', '2026-10-05T20:10'],
    );
    expect(said.code).toBe(0);
    expect(desk.text('lanternfall.runs.yaml')).toMatch(
      /- \{ id: r-\w+, start: 2026-10-05T20:10, times: \{ harbor: 1:31\.8 \}, tried: \{ crate-vault: \[1, 2\], wall-kick: \[0, 1\] \}, ended: \{ at: stairs, why: miss, by: wall-kick \} \}/,
    );
    expect((await routewright(desk.folder, ['check'])).out).not.toContain('error');
  });

  test('a finished run began its total ago', async () => {
    const desk = new Desk();
    await desk.log('--run', '--total', '3:40.5');
    expect(desk.text('lanternfall.runs.yaml')).toContain('start: 2026-10-05T19:26, total: 3:40.5 }');
  });

  test.each([
    [['--run'], 'needs its total'],
    [['--run', '--total', 'fast'], 'The total needs a time'],
    [['--run', '--times', 'harbour=1:30'], 'Did you mean harbor?'],
    [['--run', '--tried', 'crate-vault=2/1'], 'landed and tries'],
    [['--run', '--ended', 'stairs:tired'], 'why'],
  ])('%j is wrong use', async (argv, words) => {
    const { code, err } = await new Desk().log(...argv);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});

test('a torn line in the journal is passed over and told', async () => {
  const desk = new Desk();
  await desk.log('crate-vault', '--landed');
  const journals = join(desk.state, 'routewright/journal');
  const names = readdirSync(journals, { recursive: true, encoding: 'utf8' });
  const path = join(
    journals,
    names.find((name) => name.endsWith('.open.jsonl'))!,
  );
  writeFileSync(path, `${readFileSync(path, 'utf8')}\n{"kind":"attempt","id":"x","at":17`);
  expect((await desk.log('--missed')).out).toBe(
    'Crate vault: missed. This block: 1 of 2. (Passed over in the journal: 1 torn, never acknowledged.)\n',
  );
});

describe('import', () => {
  const table = [
    '\uFEFFWhen,Trick,minutes,landed,tries,on,"Remark, ""free"""',
    '2026-09-28T19:20,crate-vault,20,79,213,console,"one',
    'two"',
    '2026-09-29T19:25,wall-kick,25,152,263,,',
    '2026-09-30,wall-kick,20.5,,,,',
  ].join('\r\n');
  const columns = ['--columns', 'When=start,Trick=technique', '--columns', 'Remark, "free"=ignored'];

  test('a dry run shows, the import adds, a second one is refused with its lines', async () => {
    const desk = new Desk({ ...started, 'p.csv': table });
    const dry = await desk.log('--import', 'p.csv', ...columns, '--dry-run');
    expect(dry.out).toBe(
      '  line 2: 2026-09-28T19:20, crate-vault, 20 min, 79 of 213 landed; on console\n' +
        '  line 4: 2026-09-29T19:25, wall-kick, 25 min, 152 of 263 landed\n' +
        '  line 5: 2026-09-30, wall-kick, 20.5 min\n' +
        '3 rows would be added to lanternfall.practice.yaml, no rows refused.\n',
    );
    expect(dry.err).toBe('Nothing is read from: Remark, "free".\n');
    expect(desk.text()).toBe(empty);
    expect((await desk.log('--import', 'p.csv', ...columns)).code).toBe(0);
    expect(desk.text()).toContain('landed: [79, 213], on: console }');
    const once = desk.text();
    const again = await desk.log('--import', 'p.csv', ...columns);
    expect(again.code).toBe(1);
    expect(again.err).toContain('p.csv:4  stands in the log already');
    expect(desk.text()).toBe(once);
    expect((await routewright(desk.folder, ['check'])).out).not.toContain('error');
  });

  test('a block that was written by hand is a duplicate, too, and so is a row that stands twice', async () => {
    const desk = new Desk({
      ...started,
      'lanternfall.practice.yaml': practice,
      'p.csv':
        'start,technique,minutes,landed,tries\n2026-10-05T19:30,crate-vault,25,60,150\n' +
        '2026-10-07T19:30,crate-vault,25,60,150\n2026-10-07T19:30,crate-vault,25,60,150\n',
    });
    const said = await desk.log('--import', 'p.csv');
    expect(said.err).toBe('p.csv:2  stands in the log already\np.csv:4  the same as line 3\n');
    expect(said.out).toContain('1 row added to lanternfall.practice.yaml, 2 rows refused.');
  });

  test('runs come back from a table as they went into it', async () => {
    const runs = [
      ['2026-10-04T15:50', '', '3:41.1', '1/1', '0/1', ''],
      ['2026-10-04T16:34', '1:24.1', '', '1/2', '', 'stairs:death'],
      ['2026-10-04T16:48', '1:26.9', '3:39', '1/1', '1/1', ''],
    ];
    const csv = [['start', 'harbor', 'total', 'crate-vault', 'wall-kick', 'ended'], ...runs]
      .map((row) => row.map((cell) => `"${cell}"`).join(','))
      .join('\r\n');
    const desk = new Desk({ ...started, 'r.csv': csv });
    expect((await desk.log('--import', 'r.csv')).code).toBe(0);
    expect(runRowsOf(desk.text('lanternfall.runs.yaml'))).toEqual(runs);
  });

  test.each([
    [
      'start,technique\n2026-09-28,crate-valt\n',
      'p.csv:2  The route has no technique crate-valt. Did you mean crate-vault?',
    ],
    ['start,technique\nyesterday,crate-vault\n', 'p.csv:2  The start needs a date'],
    ['start,technique,landed\n2026-09-28,crate-vault,3\n', 'p.csv:2  A counted block needs both numbers'],
    ['start,technique\n"2026-09-28,crate-vault\n', 'cannot be read'],
    ['technique,minutes\ncrate-vault,3\n', 'p.csv:1 cannot be read: no column says when'],
    ['', 'there is nothing in it'],
    ['start,total\n2026-09-28,41:99\n', 'p.csv:2  The total needs a time such as 41:30.2, not 41:99.'],
  ])('%j is refused whole', async (csv, words) => {
    const desk = new Desk({ ...started, 'p.csv': csv });
    const { code, err, out } = await desk.log('--import', 'p.csv');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(words);
    expect(err).toContain('Nothing was added.');
    expect(desk.text()).toBe(empty);
  });
});
