import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { systemClock } from '../../server/src/journal/clock.ts';
import { openJournal } from '../../server/src/journal/journal.ts';
import { Desk, empty, started } from '../helpers/desk.ts';
import { practice, routewright } from './place.ts';

const log = 'lanternfall.practice.yaml';
const renamed = 'autumn.practice.yaml';

/** A desk whose clock goes with the system's, since reading commands have no other. */
function deskNow(files: Readonly<Record<string, string>> = started): Desk {
  const desk = new Desk(files);
  desk.clock.pass((Date.now() - desk.clock.now()) / 1000);
  return desk;
}

function asked(desk: Desk, ...argv: string[]) {
  return routewright(desk.folder, argv, { env: { ROUTEWRIGHT_STATE_HOME: desk.state } });
}

describe('attempts that are in the journal only', () => {
  test('are told on stderr by whatever does not count them; the answer is the same to the byte', async () => {
    const desk = deskNow({ ...started, [log]: practice });
    const commands = [['rank'], ['rank', '--json'], ['review'], ['odds'], ['plan']];
    const before = [];
    for (const command of commands) before.push(await asked(desk, ...command));
    expect(before.map(({ err }) => err)).toEqual(commands.map(() => ''));
    for (const what of ['--landed', '--missed', '--landed']) await desk.log('crate-vault', what);
    const open =
      'Not counted here: 3 attempts wait in the journal of lanternfall.practice.yaml. Write the finished blocks into it with: ' +
      'routewright log lanternfall.practice.yaml. The open block follows when you end it: routewright log --end lanternfall.practice.yaml\n';
    for (const [at, command] of commands.entries()) {
      const { out, err, code } = await asked(desk, ...command);
      expect({ out, code }).toEqual({ out: before[at]!.out, code: before[at]!.code });
      expect(err).toBe(open);
    }
    await desk.log('--end');
    const after = await asked(desk, 'rank');
    expect(after.err).toBe('');
    expect(after.out).not.toBe(before[0]!.out);
  });

  test('what an editor is to take up: it says so, and what was taken up but not saved counts as waiting', async () => {
    const desk = deskNow();
    const editor = openJournal(join(desk.folder, log), {
      state: join(desk.state, 'routewright'),
      clock: systemClock,
      writer: 'editor-1',
    });
    if ('reason' in editor) throw new Error(editor.reason);
    editor.markOpen();
    await desk.log('crate-vault', '--landed', '3', '--tries', '9', '--minutes', '10');
    await desk.log('--run', '--total', '3:40.5');
    expect((await asked(desk, 'rank')).err).toBe(
      'Not counted here: 1 block waits in the journal of lanternfall.practice.yaml. ' +
        'Save the file in the editor that has it open: the entries are then written into it.\n',
    );
    editor.close();
    expect((await asked(desk, 'rank')).err).toContain(
      'Write it into the file with: routewright log lanternfall.practice.yaml',
    );
  });
});

describe('a log that was renamed while attempts waited', () => {
  test('is told of, with the way to bring them in, and then has them once', async () => {
    const desk = deskNow();
    await desk.log('wall-kick', '--tape', 'llm');
    for (const what of ['--landed', '--missed']) await desk.log('crate-vault', what);
    renameSync(join(desk.folder, log), join(desk.folder, renamed));
    const old = join(desk.folder, log);
    const said = await desk.log();
    expect(said.err).toContain(
      `2 attempts wait in a journal for ${old}, which is no longer there. If it was moved or renamed: routewright log --moved-from ${old} NEW-FILE.`,
    );
    expect((await desk.log('--moved-from', log, renamed)).out).toBe(
      'Crate vault: 1 of 2 landed, in the journal.\n',
    );
    desk.clock.pass(5);
    expect((await desk.log('--landed')).out).toBe('Crate vault: landed. This block: 2 of 3.\n');
    await desk.log('--end');
    const text = desk.text(renamed);
    expect(text.match(/tape: lml /g)).toHaveLength(1);
    expect(text.match(/tape: llm /g)).toHaveLength(1);
    expect((await desk.log()).err).toBe('');
    // Undo still knows what was logged under the former name.
    for (let times = 0; times < 3; times++) await desk.log('--undo');
    expect((await desk.log('--undo')).out).toMatch(/^Wall kick: the last block is taken back/);
    expect(desk.text(renamed)).not.toContain('technique');
  });

  test.each([
    [['--moved-from', 'notes.txt'], 'needs the former name of a practice or runs file'],
    [['--moved-from', log], `${log} is there`],
    [['--moved-from', 'spring.practice.yaml'], 'No journal is kept for spring.practice.yaml'],
  ])('%j is wrong use', async (argv, words) => {
    const desk = deskNow();
    const { code, err } = await desk.log(...argv);
    expect(code).toBe(2);
    expect(err).toContain(words);
    expect(err).toContain('Nothing was moved.');
  });

  test('an editor that has the former file open still: nothing is moved', async () => {
    const desk = deskNow();
    await desk.log('crate-vault', '--landed');
    const editor = openJournal(join(desk.folder, log), {
      state: join(desk.state, 'routewright'),
      clock: systemClock,
      writer: 'editor-1',
    });
    if ('reason' in editor) throw new Error(editor.reason);
    editor.markOpen();
    renameSync(join(desk.folder, log), join(desk.folder, renamed));
    const said = await desk.log('--moved-from', log, renamed);
    expect(said).toMatchObject({ code: 2, out: '' });
    expect(said.err).toContain('an editor has it open still. Nothing was moved.');
    editor.close();
    expect((await desk.log('--moved-from', log, renamed)).out).toContain('1 of 1 landed');
  });

  test('a file that was removed and written again has its journal still', async () => {
    const desk = deskNow();
    await desk.log('crate-vault', '--landed');
    renameSync(join(desk.folder, log), join(desk.folder, 'kept.txt'));
    writeFileSync(join(desk.folder, log), empty);
    expect(await desk.log()).toMatchObject({ err: '', out: 'Crate vault: 1 of 1 landed, in the journal.\n' });
  });
});
