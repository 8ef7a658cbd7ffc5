import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Desk, empty, started } from '../helpers/desk.ts';
import { routewright } from './place.ts';

const table =
  'start,technique,minutes,landed,tries\n2026-09-28T19:20,crate-vault,20,79,213\n2026-09-29T19:25,wall-kick,25,152,263\n';
const runsFile = 'lanternfall.runs.yaml';

describe('undo takes back what was logged last', () => {
  test('a run, with all that was said of it', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    await desk.log('--end');
    desk.clock.pass(600);
    await desk.log('--run', '--at', '2026-10-05T19:31', '--total', '3:40.5', '--tried', 'wall-kick=0/1');
    expect(desk.text(runsFile)).toContain('total: 3:40.5');
    const said = await desk.log('--undo');
    expect(said.out).toBe(
      'The last run is taken back: 2026-10-05T19:31, a run of 3:40.5, Wall kick 0 of 1 landed.\n' +
        '1 run in lanternfall.runs.yaml taken out again.\n',
    );
    expect(desk.text(runsFile)).toBe('route: lanternfall.route.yaml\nruns: []\n');
    // The next one takes back what came before it, in the other log.
    expect((await desk.log('--undo')).out).toContain('Crate vault: the last attempt (landed) is taken back.');
    expect(await desk.log('--undo')).toMatchObject({ code: 2, err: 'There is nothing to take back.\n' });
  });

  test('an attempt made after a run, and not the run; nor is a block that was folded later taken for the last', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    desk.clock.pass(60);
    await desk.log('--run', '--total', '3:40.5');
    desk.clock.pass(3600);
    // Half an hour brought nothing: the block is over and goes into the file now.
    expect((await desk.log()).out).toContain('Into lanternfall.practice.yaml');
    expect((await desk.log('--undo')).out).toContain('The last run is taken back');
    await desk.log('--run', '--total', '3:41.5');
    desk.clock.pass(60);
    await desk.log('wall-kick', '--missed');
    expect((await desk.log('--undo')).out).toContain('Wall kick: the last attempt (missed) is taken back.');
    expect((await desk.log('--undo', '--json')).out).toContain('"total": "3:41.5"');
  });

  test('with a technique, the last of that one: what came after it stays', async () => {
    const desk = new Desk();
    await desk.log('crate-vault', '--landed');
    await desk.log('wall-kick', '--minutes', '10');
    await desk.log('crate-vault', '--minutes', '20');
    await desk.log('wall-kick', '--minutes', '30');
    desk.clock.pass(60);
    await desk.log('--run', '--total', '3:40.5');
    expect((await desk.log('crate-vault', '--undo')).out).toMatch(/last block is taken back: .*, 20 min\.\n/);
    expect((await desk.log('crate-vault', '--undo')).out).toContain('the last attempt (landed)');
    expect((await desk.log('crate-vault', '--undo')).code).toBe(2);
    expect(desk.text()).toMatch(/minutes: 30 /);
    expect((await desk.log('--undo')).out).toContain('The last run is taken back');
  });

  test('an import as a whole, which can be imported again', async () => {
    const desk = new Desk({ ...started, 'p.csv': table });
    await desk.log('crate-vault', '--tape', 'lml');
    const before = desk.text();
    desk.clock.pass(60);
    await desk.log('--import', 'p.csv');
    const imported = desk.text();
    expect((await desk.log('--undo')).out).toBe(
      'The last import is taken back, 2 rows:\n' +
        '  2026-09-28T19:20, Crate vault, 20 min, 79 of 213 landed\n' +
        '  2026-09-29T19:25, Wall kick, 25 min, 152 of 263 landed\n' +
        '2 blocks in lanternfall.practice.yaml taken out again.\n',
    );
    expect(desk.text()).toBe(before);
    expect((await desk.log('--import', 'p.csv')).out).toContain('2 rows added');
    const plain = (text: string) => [...text.matchAll(/technique: .*\}/g)].map(([block]) => block).sort();
    expect(plain(desk.text())).toEqual(plain(imported));
    expect((await desk.log('--import', 'p.csv')).code).toBe(1);
    expect((await routewright(desk.folder, ['check'])).out).not.toContain('error');
    expect((await desk.log('--undo')).out).toContain('The last import is taken back, 2 rows');
    expect((await desk.log('--undo')).out).toMatch(
      /Crate vault: the last block is taken back: .*2 of 3 landed/,
    );
  });

  test('what was edited by hand since is left as it stands, and that is said', async () => {
    const desk = new Desk();
    await desk.log('--run', '--at', '2026-10-05T19:31', '--total', '3:40.5');
    const path = join(desk.folder, runsFile);
    const edits: readonly ((text: string) => string)[] = [
      (text) => text.replace('3:40.5', '3:40.7'),
      (text) => text.replace('3:40.5 }', '3:40.5, notes: "left early at the stairs" }'),
      (text) => text.replace('3:40.5 }', '3:40.5 } # first one under 3:41'),
    ];
    for (const edit of edits) {
      const mine = edit(readFileSync(path, 'utf8'));
      expect(mine).not.toBe(readFileSync(path, 'utf8'));
      writeFileSync(path, mine);
      const said = await desk.log('--undo');
      expect(said.out).toContain(
        '1 run in lanternfall.runs.yaml edited by hand since, and left as it stands: take out by hand what is to go.',
      );
      expect(desk.text(runsFile)).toBe(mine);
      writeFileSync(path, 'route: lanternfall.route.yaml\nruns: []\n');
      await desk.log('--run', '--at', '2026-10-05T19:31', '--total', '3:40.5');
    }
    // Another layout is no edit.
    const text = readFileSync(path, 'utf8');
    writeFileSync(
      path,
      text.replace(
        /\{ id: (\S+), start: (\S+), total: 3:40\.5 \}/,
        'id: $1\n    start: $2\n    total: "3:40.5"',
      ),
    );
    expect(readFileSync(path, 'utf8')).not.toBe(text);
    expect((await desk.log('--undo')).out).toContain('taken out again');
    expect(desk.text(runsFile)).toBe('route: lanternfall.route.yaml\nruns: []\n');
  });

  test('a block taken out by hand and imported again is added once more', async () => {
    const desk = new Desk({ ...started, 'p.csv': table });
    await desk.log('--import', 'p.csv');
    writeFileSync(join(desk.folder, 'lanternfall.practice.yaml'), empty);
    expect((await desk.log('--import', 'p.csv')).out).toContain('2 rows added');
    expect(desk.text()).toContain('landed: [79, 213]');
    expect(desk.text()).toContain('landed: [152, 263]');
  });
});
