import {
  appendFileSync,
  chmodSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { flushToDisk, flushToEditor, confirmSaved } from '../../server/src/journal/flush.ts';
import { applyEdits } from '../../server/src/files/edit/textEdit.ts';
import { openJournal } from '../../server/src/journal/journal.ts';
import { decodeLines, encodeLine } from '../../server/src/journal/journalLines.ts';
import { attempt, bench, end, start, sure, undo, type Bench } from './place.ts';

const night = { dayStarts: 240 };

/** A block of so many attempts, one every five seconds, ended. */
function block({ clock, journal }: Bench, id: string, tape: string, technique = 'crate-vault') {
  const lines = [];
  lines.push(start(clock, id, technique));
  for (const letter of tape) {
    clock.pass(5);
    lines.push(attempt(clock, id, letter === 'l', technique));
  }
  lines.push(end(clock, id));
  expect(journal.append(...lines)).toBeUndefined();
  return lines;
}

function journalFiles({ journal }: Bench): string[] {
  return readdirSync(journal.folder).filter((name) => name.endsWith('.jsonl') && !name.startsWith('folds'));
}

describe('folding into the file', () => {
  test('adds a block to a session of its own, and clears the journal', async () => {
    const at = bench();
    block(at, 'b-1', 'lmmlll');
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(
      'route: lanternfall.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n' +
        '      - { id: b-1, technique: crate-vault, minutes: 0.5, tape: lmmlll }\n',
    );
    expect(journalFiles(at)).toEqual([]);
  });

  test('the next block of the evening joins the session; comments, order and quoting stay', async () => {
    const at = bench(
      `# mine\nroute: "lanternfall.route.yaml" # quoted\nsessions:\n  - start: 2026-10-05T19:00 # early\n    blocks:\n` +
        `      - { minutes: 25, technique: 'wall-kick' } # first\n      # below\nx-own: 1\n`,
    );
    block(at, 'b-2', 'ml');
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(
      `# mine\nroute: "lanternfall.route.yaml" # quoted\nsessions:\n  - start: 2026-10-05T19:00 # early\n    blocks:\n` +
        `      - { minutes: 25, technique: 'wall-kick' } # first\n` +
        `      - { id: b-2, technique: crate-vault, minutes: 0.2, tape: ml }\n      # below\nx-own: 1\n`,
    );
  });

  const shapes: readonly (readonly [string, string])[] = [
    ['no sessions at all', 'route: a.route.yaml\n'],
    ['no line feed at the end', 'route: a.route.yaml\nsessions:'],
    [
      'Windows line ends',
      'route: a.route.yaml\r\nsessions:\r\n  - start: 2026-10-05T19:00\r\n    blocks: []\r\n',
    ],
    [
      'lists in brackets',
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05T19:00, blocks: [{ minutes: 1 }] }]\n',
    ],
    [
      'an empty list in brackets',
      'route: a.route.yaml\nsessions: [{ start: 2026-10-05T19:00, blocks: [] }]\n',
    ],
    ['a file in braces', '{ route: a.route.yaml, sessions: [] }\n'],
    [
      'a session without blocks',
      'route: a.route.yaml\nsessions:\n- start: 2026-10-05T19:00\n  notes: |\n    Two\n    lines\n',
    ],
    [
      'blocks of several lines',
      'route: a.route.yaml\nsessions:\n- blocks:\n  - technique: a\n    minutes: 3\n  start: 2026-10-05T19:00\n',
    ],
    [
      'an older and a later session',
      'route: a.route.yaml\nsessions:\n  - start: 2026-10-01T19:00\n  - start: 2026-10-09T19:00\n',
    ],
  ];
  test.each(shapes)('fits %s', async (_, text) => {
    const at = bench(text);
    block(at, 'b-3', 'l');
    block(at, 'b-4', 'm', 'wall-kick');
    sure(await flushToDisk(at.journal, night));
    const once = at.text();
    expect(once.match(/b-3/g)).toHaveLength(1);
    expect(once.indexOf('b-4')).toBeGreaterThan(once.indexOf('b-3'));
    if (text.includes('\r')) expect(once.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(once);
  });

  test('leaves a file with broken YAML alone and keeps everything', async () => {
    const at = bench('route: a.route.yaml\nsessions:\n  - start: "2026\n');
    block(at, 'b-5', 'lm');
    expect(JSON.stringify(await flushToDisk(at.journal, night))).toContain('YAML');
    writeFileSync(at.path, 'route: a.route.yaml\n');
    expect(sure(await flushToDisk(at.journal, night)).entries).toHaveLength(1);
  });

  test('leaves a file alone that a program has emptied to write it anew, and keeps everything', async () => {
    const at = bench();
    const text = at.text();
    block(at, 'b-5', 'lm');
    writeFileSync(at.path, '');
    expect(JSON.stringify(await flushToDisk(at.journal, night))).toContain('it is empty');
    expect(at.text()).toBe('');
    writeFileSync(at.path, text);
    expect(sure(await flushToDisk(at.journal, night)).entries).toHaveLength(1);
    expect(at.text()).toContain('route: lanternfall.route.yaml\n');
  });

  test('goes through a link to the real file and keeps its mode', async () => {
    const at = bench();
    chmodSync(at.path, 0o640);
    const link = join(at.folder, 'link.practice.yaml');
    symlinkSync(at.path, link);
    const journal = sure(openJournal(link, { state: at.state, clock: at.clock }));
    expect(journal.folder).toBe(at.journal.folder);
    block({ ...at, journal }, 'b-6', 'l');
    sure(await flushToDisk(journal, night));
    expect(readFileSync(link, 'utf8')).toContain('b-6');
    expect(statSync(at.path).mode & 0o777).toBe(0o640);
  });

  test('a crash after the file was replaced and before the journal knew doubles nothing', async () => {
    const at = bench();
    const lines = block(at, 'b-7', 'lml');
    sure(await flushToDisk(at.journal, night));
    const folds = join(at.journal.folder, 'folds.open.jsonl');
    writeFileSync(folds, readFileSync(folds, 'utf8').replace(/.*"saved".*\n/, ''));
    at.journal.append(...lines);
    sure(await flushToDisk(at.journal, night));
    expect(at.text().match(/b-7/g)).toHaveLength(1);
    expect(journalFiles(at)).toEqual([]);
  });

  test('an attempt that comes in for a folded block is an entry of its own', async () => {
    const at = bench();
    block(at, 'b-8', 'll');
    sure(await flushToDisk(at.journal, night));
    const late = attempt(at.clock, 'b-8', false);
    at.journal.append(late);
    sure(await flushToDisk(at.journal, { ...night, all: true }));
    expect(at.text()).toMatch(/b-8, .*tape: ll }\n.*b-line-\d+, .*tape: m }\n/);
  });
});

describe('taking back', () => {
  test('an attempt before the fold never reaches the file', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'lml');
    at.journal.append(undo(at.clock, lines[2]!.id));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toContain('tape: ll }');
    expect(journalFiles(at)).toEqual([]);
  });

  test('an attempt after the fold is taken out of the file, once', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'lml');
    sure(await flushToDisk(at.journal, night));
    at.journal.append(undo(at.clock, lines[3]!.id));
    expect(sure(await flushToDisk(at.journal, night)).plan?.shortened).toEqual(['b-1']);
    expect(at.text()).toContain('tape: lm }');
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toContain('tape: lm }');
    expect(journalFiles(at)).toEqual([]);
  });

  test('the last attempt of a folded block takes the block with it', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'l');
    block(at, 'b-2', 'm');
    sure(await flushToDisk(at.journal, night));
    at.journal.append(undo(at.clock, lines[1]!.id));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).not.toContain('b-1');
    expect(at.text()).toContain('b-2');
  });

  test('a block edited by hand since is left as it stands', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'lml');
    sure(await flushToDisk(at.journal, night));
    writeFileSync(at.path, at.text().replace('lml', 'lllll'));
    at.journal.append(undo(at.clock, lines[3]!.id));
    expect(sure(await flushToDisk(at.journal, night)).plan?.handEdited).toEqual(['b-1']);
    expect(at.text()).toContain('lllll');
  });

  test('a block taken out of the saved file by hand stays out', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'lml');
    sure(await flushToDisk(at.journal, night));
    writeFileSync(at.path, 'route: lanternfall.route.yaml\n');
    at.journal.append(undo(at.clock, lines[3]!.id));
    expect(sure(await flushToDisk(at.journal, night)).plan?.dropped).toEqual(['b-1']);
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe('route: lanternfall.route.yaml\n');
  });
});

describe('lines of a process that was stopped until another took its lock over', () => {
  const foldsOf = ({ journal }: Bench) => join(journal.folder, 'folds.open.jsonl');
  const sealIn = (at: Bench) =>
    decodeLines(readFileSync(foldsOf(at), 'utf8')).lines.findLast((line) => line.kind === 'seal')!;

  test('a seal that is out of date does not put an attempt into the file again', async () => {
    const at = bench();
    block(at, 'b-1', 'lml');
    // An open block, so that the lines of the first are still there.
    at.journal.append(start(at.clock, 'b-2'), attempt(at.clock, 'b-2'));
    sure(await flushToDisk(at.journal, night));
    const text = at.text();
    const seal = sealIn(at);
    const old = { ...seal, id: 'late', attempts: seal.attempts.slice(0, 2) };
    appendFileSync(foldsOf(at), encodeLine({ ...old, entry: { ...old.entry, tape: 'lm' } }));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(text);
  });

  test('a mark for an earlier seal does not settle a later one', async () => {
    const at = bench();
    const lines = block(at, 'b-1', 'lml');
    sure(await flushToDisk(at.journal, night));
    const first = sealIn(at);
    at.journal.append(undo(at.clock, lines[3]!.id));
    sure(await flushToEditor(at.journal, at.text(), night));
    expect(sealIn(at).id).not.toBe(first.id);
    const mark = { kind: 'saved', id: 'late', at: at.clock.now(), block: 'b-1', seal: first.id } as const;
    appendFileSync(foldsOf(at), encodeLine(mark));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toContain('tape: lm }');
  });
});

describe('while an editor has the file open', () => {
  test('others only journal; the editor folds into its text, and clears once that is saved', async () => {
    const at = bench();
    const editor = sure(openJournal(at.path, { ...at, writer: 'editor-1' }));
    expect(editor.markOpen()).toBeUndefined();
    expect([editor.ownsFlush(), at.journal.isOpenElsewhere(), editor.isOpenElsewhere()]).toEqual([
      true,
      true,
      false,
    ]);
    block(at, 'b-1', 'lm');
    const before = at.text();
    expect(await flushToDisk(at.journal, night)).toBeUndefined();
    expect(at.text()).toBe(before);
    const plan = await flushToEditor(editor, before, night);
    if (!('edits' in plan)) throw new Error('no plan');
    expect(applyEdits(before, plan.edits)).toBe(plan.text);
    expect(plan.added).toEqual(['b-1']);
    expect(journalFiles(at)).not.toEqual([]);
    expect(await confirmSaved(editor, plan.text, new Set(plan.added))).toEqual({
      saved: ['b-1'],
      dropped: [],
    });
    expect(journalFiles(at)).toEqual([]);
    editor.close();
    expect(at.journal.isOpenElsewhere()).toBe(false);
  });

  test('a block that the user undid before saving is dropped and never folded again', async () => {
    const at = bench();
    const editor = sure(openJournal(at.path, { ...at, writer: 'editor-1' }));
    editor.markOpen();
    block(at, 'b-1', 'lm');
    const plan = await flushToEditor(editor, at.text(), night);
    if (!('edits' in plan)) throw new Error('no plan');
    expect(await confirmSaved(editor, at.text(), new Set(plan.added))).toEqual({
      saved: [],
      dropped: ['b-1'],
    });
    editor.close();
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).not.toContain('b-1');
    expect(journalFiles(at)).toEqual([]);
  });

  test('an editor that crashed before it saved leaves nothing behind that is not folded later', async () => {
    const at = bench();
    const editor = sure(openJournal(at.path, { ...at, writer: 'editor-1' }));
    editor.markOpen();
    block(at, 'b-1', 'lm');
    await flushToEditor(editor, at.text(), night);
    // A crash leaves the marker; its process is gone, as no process has this number.
    const markers = join(at.journal.folder, 'editors');
    const [marker] = readdirSync(markers);
    const owner = JSON.parse(readFileSync(join(markers, marker!), 'utf8')) as object;
    writeFileSync(join(markers, marker!), JSON.stringify({ ...owner, pid: 2 ** 22 + 1 }));
    expect(at.journal.isOpenElsewhere()).toBe(false);
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toContain('b-1');
  });
});

describe('clocks', () => {
  const zone = process.env.TZ;
  const inZone = async (name: string, work: () => Promise<void>) => {
    process.env.TZ = name;
    try {
      await work();
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  };

  test('midnight does not end a session, the runner’s own boundary does', async () => {
    const at = bench(undefined, '2026-10-05T23:50');
    block(at, 'b-1', 'l'.repeat(240)); // 20 minutes
    block(at, 'b-2', 'l');
    at.clock.pass(3 * 3600);
    block(at, 'b-3', 'l');
    at.clock.pass(3600);
    block(at, 'b-4', 'l');
    sure(await flushToDisk(at.journal, night));
    const starts = [...at.text().matchAll(/start: (\S+)/g)].map(([, start]) => start);
    // 03:10 comes after a rest too long for one sitting, 04:10 on the next day.
    expect(starts).toEqual(['2026-10-05T23:50', '2026-10-06T03:10', '2026-10-06T04:10']);
  });

  test('the hour that comes twice in autumn: one session, and minutes as they passed', () =>
    inZone('Europe/Berlin', async () => {
      // S: Directive 2000/84/EC: summer time ends on the last Sunday of October at 01:00 UTC, in 2026 on the 25th.
      const at = bench(undefined, '2026-10-25T00:50:00Z');
      expect(at.clock.local(at.clock.now())).toBe('2026-10-25T02:50');
      block(at, 'b-1', 'l'.repeat(240)); // to 01:10 UTC, which is 02:10 again
      expect(at.clock.local(at.clock.now())).toBe('2026-10-25T02:10');
      block(at, 'b-2', 'l'.repeat(12));
      sure(await flushToDisk(at.journal, night));
      expect(at.text().match(/start:/g)).toHaveLength(1);
      expect(at.text()).toMatch(/b-1, technique: crate-vault, minutes: 20,/);
      expect(at.text()).toMatch(/b-2, technique: crate-vault, minutes: 1,/);
    }));

  test('the hour that is missing in spring counts no minutes', () =>
    inZone('Europe/Berlin', async () => {
      const at = bench(undefined, '2026-03-29T00:55:00Z');
      block(at, 'b-1', 'l'.repeat(120));
      sure(await flushToDisk(at.journal, night));
      expect(at.text()).toContain('start: 2026-03-29T01:55');
      expect(at.text()).toContain('minutes: 10,');
    }));

  test('a clock set back by two hours in a block loses and turns round nothing', async () => {
    const at = bench();
    const { clock, journal } = at;
    journal.append(start(clock, 'b-1'));
    for (const [index, letter] of [...'lmmllmlmml'].entries()) {
      clock.pass(index === 5 ? -7200 : 6);
      journal.append(attempt(clock, 'b-1', letter === 'l'));
    }
    journal.append(end(clock, 'b-1'));
    sure(await flushToDisk(journal, night));
    expect(at.text()).toMatch(/minutes: 0.9, tape: lmmllmlmml/);
  });
});
