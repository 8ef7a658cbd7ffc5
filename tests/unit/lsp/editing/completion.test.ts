import type { TextEdit } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { completionProvider } from '../../../../server/src/lsp/editing/completion.ts';
import type { FileKind } from '../../../../server/src/files/fileKind.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { edited, harborRoute, openEditor } from '../editor.ts';

async function at(files: Record<string, string>) {
  const editor = await openEditor(files);
  const items = completionProvider(editor.services)(editor.params);
  return {
    labels: items.map(({ label }) => label),
    /** The file's text with a completion taken. */
    with: (label: string): string => {
      const item = items.find((candidate) => candidate.label === label)!;
      const name = editor.uri.split('/').at(-1)!;
      return edited(editor.text(name), [item.textEdit as TextEdit]);
    },
    items,
  };
}

const inRoute = (from: string, to: string) => at({ 'a.route.yaml': harborRoute.replace(from, to) });
const beside = (name: string, text: string) => at({ 'a.route.yaml': harborRoute, [name]: text });
/** Of these nothing is logged: the one that the route uses most comes first. */
const techniques = ['lamp-hop', 'crate-vault', 'lamp-clip'];

describe('keys', () => {
  it('offers the keys of a segment that are not there yet, with what they mean', async () => {
    const { labels, items } = await inRoute('    time: 1:30\n', '    time: 1:30\n    ‸\n');
    expect(labels).toContain('spread');
    expect(labels).toContain('survive');
    expect(labels).not.toContain('time');
    expect(labels).not.toContain('game');
    const survive = items.find(({ label }) => label === 'survive')!;
    expect(JSON.stringify(survive.documentation)).toContain('Chance to get through the segment');
  });

  it('says beside each key what it means, in more words than the key has', async () => {
    const { items } = await inRoute('    time: 1:30\n', '    time: 1:30\n    ‸\n');
    const details = new Map(items.map(({ label, detail }) => [label, detail]));
    expect(details.get('survive')).toBe('Chance to get through the segment, apart from its techniques');
    expect(details.get('spread')).toBe('Standard deviation of that time, seconds');
    const plain = (text: string): string => text.toLowerCase().replaceAll('_', ' ');
    for (const text of ['‸', 'segments:\n  - ‸', 'techniques:\n  a:\n    ‸']) {
      const keys = (await at({ 'b.route.yaml': text })).items.filter(({ kind }) => kind === 10);
      expect(keys.length).toBeGreaterThan(4);
      for (const { label, detail } of keys) {
        expect(plain(detail!), label).not.toBe(plain(label));
        expect(detail!.split(' ').length, label).toBeGreaterThan(1);
        expect(detail, label).not.toMatch(/[`.]$/);
      }
    }
  });

  it('completes a key half typed, with its colon', async () => {
    const { with: taken } = await inRoute('    time: 1:30\n', '    time: 1:30\n    spr‸\n');
    expect(taken('spread')).toContain('    time: 1:30\n    spread: \n');
  });

  it('leaves no space behind a key whose value goes on below', async () => {
    const { with: taken } = await inRoute('    difficulty: 6\n', '    difficulty: 6\n    pr‸\n');
    expect(taken('practice')).toContain('    practice:\n');
  });

  it('changes a key without a second colon', async () => {
    const { with: taken } = await inRoute('    difficulty: 6\n', '    diff‸: 6\n');
    expect(taken('difficulty')).toContain('    difficulty: 6\n');
  });

  it('works inside brackets, also before they are closed', async () => {
    expect((await inRoute('spot: gate, backup', 'spot: gate, ‸, backup')).labels).toEqual(
      expect.arrayContaining(['saves', 'retry']),
    );
    const open = await inRoute(
      '      - { use: lamp-clip, id: second, spot: gate, backup: lamp-hop }',
      '      - { use: lamp-clip, re‸',
    );
    expect(open.with('retry')).toContain('{ use: lamp-clip, retry: \n');
  });

  it('begins a file', async () => {
    const { labels } = await beside('a.week.yaml', '‸');
    expect(labels).toEqual(expect.arrayContaining(['route', 'days', 'states']));
  });

  it('offers the keys of a run or of an evening, by what is there', async () => {
    const run = await beside('a.runs.yaml', 'route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    ‸\n');
    expect(run.labels).toContain('total');
    expect(run.labels).not.toContain('finished');
    const evening = await beside('a.runs.yaml', 'route: a.route.yaml\nruns:\n  - date: 2026-10-05\n    ‸\n');
    expect(evening.labels).toContain('finished');
    expect(evening.labels).not.toContain('total');
  });
});

describe('ids', () => {
  it('offers techniques where one is used', async () => {
    expect((await inRoute('- crate-vault', '- cr‸')).labels).toEqual(expect.arrayContaining(techniques));
    expect((await inRoute('backup: lamp-hop', 'backup: ‸')).labels).toEqual(techniques);
    expect((await inRoute('use: lamp-clip', 'use: l‸')).labels).toEqual(techniques);
  });

  it('says the name beside an id, and more of what has no name', async () => {
    const { items } = await inRoute('use: lamp-clip', 'use: l‸');
    expect(items.map(({ label, detail }) => [label, detail])).toEqual([
      ['lamp-hop', 'Difficulty 2 of 10, saves 1.5 s'],
      ['crate-vault', 'Crate vault'],
      ['lamp-clip', 'Lamp clip'],
    ]);
  });

  it('offers for `needs` neither the technique itself nor what stands there', async () => {
    expect((await inRoute('needs: [lamp-hop]', 'needs: [lamp-hop, ‸]')).labels).toEqual(['crate-vault']);
    expect((await inRoute('needs: [lamp-hop]', 'needs:\n      - lamp-hop\n      - ‸')).labels).toEqual([
      'crate-vault',
    ]);
  });

  it('replaces the whole word around the cursor', async () => {
    const { with: taken } = await inRoute('needs: [lamp-hop]', 'needs: [cra‸te]');
    expect(taken('crate-vault')).toContain('needs: [crate-vault]');
  });

  it('offers techniques, uses and segments in logs', async () => {
    const block = (text: string) =>
      beside(
        'a.practice.yaml',
        `route: a.route.yaml\nsessions:\n  - start: 2026-10-05\n    blocks:\n      - ${text}\n`,
      );
    expect((await block('{ technique: la‸, minutes: 20 }')).labels).toEqual(techniques);
    expect((await block('technique: ‸')).labels).toEqual(techniques);
    expect((await block('{ segment: ‸ }')).labels).toEqual(['harbor', 'rope-yard']);
    const run = (text: string) =>
      beside('a.runs.yaml', `route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    ${text}\n`);
    expect((await run('tried: { crate-vault: [1, 1], ‸ }')).labels).toEqual([
      'lamp-hop',
      'lamp-clip',
      'lamp-clip@second',
    ]);
    expect((await run('times: { harbor: 90, ‸ }')).labels).toEqual(['rope-yard']);
    expect((await run('ended: { at: ‸')).labels).toEqual(['harbor', 'rope-yard']);
  });

  it('offers techniques and states in the week', async () => {
    const week = (text: string) => beside('a.week.yaml', `route: a.route.yaml\n${text}`);
    expect((await week('leave_out: [‸]\n')).labels).toEqual(techniques);
    expect((await week('states:\n  ‸\n')).labels).toEqual(techniques);
    expect((await week('states:\n  lamp-hop: ‸\n')).labels).toEqual(['unlearned', 'learning', 'in-run']);
  });

  it('offers the route files that are there', async () => {
    expect((await beside('logs/a.week.yaml', 'route: ‸\n')).labels).toEqual(['../a.route.yaml']);
  });

  it('offers yes and no as YAML writes them', async () => {
    expect((await inRoute('    loses: 9\n', '    ends_run: ‸\n')).labels).toEqual(['true', 'false']);
  });
});

describe('the order of techniques', () => {
  const log = (day: number, id: string) =>
    `  - { start: 2026-10-0${day}, blocks: [{ technique: ${id}, minutes: 20 }] }\n`;
  const runs =
    'route: a.route.yaml\nruns:\n  - { start: 2026-10-06, tried: { lamp-clip@second: [0, 1] }, ended: { at: harbor, why: reset } }\n';
  const practised = (last: string) =>
    `route: a.route.yaml\nsessions:\n${log(3, 'lamp-hop')}${log(5, 'box-jump')}${last}`;
  const line = '  - { start: 2026-10-07, blocks: [{ technique: ‸ }] }\n';

  it('begins with what was logged last, under former ids too', async () => {
    const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practised(line) };
    expect((await at(files)).labels).toEqual(['crate-vault', 'lamp-hop', 'lamp-clip']);
    expect((await at({ ...files, 'a.runs.yaml': runs })).labels).toEqual([
      'lamp-clip',
      'crate-vault',
      'lamp-hop',
    ]);
  });

  it('is the order that the editor is told', async () => {
    const { items } = await at({ 'a.route.yaml': harborRoute, 'a.practice.yaml': practised(line) });
    const told = [...items].sort((a, b) => (a.sortText! < b.sortText! ? -1 : 1));
    expect(told.map(({ label }) => label)).toEqual(items.map(({ label }) => label));
  });
});

describe('values', () => {
  it('says what each word of a state means', async () => {
    const { items } = await beside('a.week.yaml', 'route: a.route.yaml\nstates: { lamp-hop: ‸ }\n');
    expect(items.map(({ label, detail }) => [label, detail])).toEqual([
      ['unlearned', 'not begun'],
      ['learning', 'in practice'],
      ['in-run', 'tried in runs'],
    ]);
  });

  it('offers what holds where a key is left out, with what the key means', async () => {
    const { items, with: taken } = await beside('a.week.yaml', 'route: a.route.yaml\nday_starts: ‸\n');
    expect(items.map(({ label, detail }) => [label, detail])).toEqual([
      ['04:00', 'what holds where it is left out'],
    ]);
    expect(JSON.stringify(items[0]!.documentation)).toContain('day_starts');
    expect(taken('04:00')).toContain('day_starts: "04:00"\n');
    expect(
      (await inRoute('loses: 9\n', 'loses: 9\n    ends_run: ‸\n')).items.map(({ detail }) => detail),
    ).toEqual([undefined, 'what holds where it is left out']);
  });
});

describe('times from the log', () => {
  /** Nine runs whose first segment took 90 to 98 s; `crate-vault`, which saves 3 s, landed in each. */
  const runs = `route: a.route.yaml\nruns:\n${Array.from(
    { length: 9 },
    (_, i) =>
      `  - { start: 2026-10-05T${10 + i}:00, times: { harbor: ${90 + i} }, tried: { crate-vault: [1, 1] }, ended: { at: rope-yard, why: reset } }\n`,
  ).join('')}`;
  const time = (to: string, log = runs) =>
    at({ 'a.route.yaml': harborRoute.replace('    time: 1:30\n', to), 'a.runs.yaml': log });

  it('offers for a segment what the runs show of it, without what landed', async () => {
    for (const text of ['    time: ‸\n', '    time: 1:‸30\n', '    time: 1:‸\n', '    time: ‸ # slow\n']) {
      const { items, with: taken } = await time(text);
      // The middle run took 94 s, and 3 s were saved.
      expect(items[0]).toMatchObject({ label: '1:37.0', detail: 'from 9 runs of yours' });
      expect(JSON.stringify(items[0]!.documentation)).toContain('no technique tried, from 9 logged runs');
      expect(taken('1:37.0')).toMatch(/ {4}time: 1:37\.0(?: # slow)?\n/);
    }
  });

  it('offers the median of what is logged where that is too little, and says so', async () => {
    const few = runs.split('\n').slice(0, 5).join('\n');
    const { items } = await time('    time: ‸\n', `${few}\n`);
    expect(items[0]).toMatchObject({ label: '1:31.0', detail: 'median of 3 logged times' });
    expect(JSON.stringify(items[0]!.documentation)).toContain('from 1:30.0 to 1:32.0');
  });

  it('offers them in the week in quotes, and nothing for a segment that no run has', async () => {
    const week = (text: string) =>
      at({ 'a.route.yaml': harborRoute, 'a.runs.yaml': runs, 'a.week.yaml': `route: a.route.yaml\n${text}` });
    const { with: taken } = await week('times: { harbor: { time: ‸ } }\n');
    expect(taken('1:37.0')).toContain('{ harbor: { time: "1:37.0" } }');
    expect((await week('times: { rope-yard: { time: ‸ } }\n')).labels).toEqual([]);
  });
});

describe('where there is nothing to offer', () => {
  it('is silent in comments, notes and ids that are being made up', async () => {
    expect((await inRoute('game: Lanternfall', 'game: Lanternfall # the ‸')).labels).toEqual([]);
    expect((await inRoute('game: Lanternfall', 'notes: |\n  the ‸\ngame: Lanternfall')).labels).toEqual([]);
    expect((await inRoute('id: rope-yard', 'id: ‸')).labels).toEqual([]);
  });

  it('never throws, wherever the cursor is and however far the text is typed', async () => {
    for (let end = 0; end < harborRoute.length; end += 17) {
      const { labels } = await at({ 'a.route.yaml': `${harborRoute.slice(0, end)}‸` });
      expect(Array.isArray(labels)).toBe(true);
      const inside = await at({ 'a.route.yaml': `${harborRoute.slice(0, end)}‸${harborRoute.slice(end)}` });
      expect(inside.labels).not.toContain('zz-being-typed-zz');
    }
  });
});

describe('whole entries', () => {
  /** The file with an entry taken and left as it is: every place holds the word that stands there until filled in. */
  async function taken(
    name: string,
    text: string,
    label: string,
    snippets = true,
  ): Promise<string | undefined> {
    const editor = await openEditor({ 'a.route.yaml': harborRoute, [name]: text }, { today: '2026-10-05' });
    Object.assign(editor.client, { snippets });
    const item = completionProvider(editor.services)(editor.params).find((one) => one.label === label);
    if (!item) return undefined;
    const { newText, range } = item.textEdit as TextEdit;
    const words = newText.replace(/\$\{\d+:([^}]*)\}|\$\d+/g, '$1');
    // An editor indents further lines as the line of the cursor is.
    const row = editor.text(name).split('\n')[editor.position.line]!;
    const indented = words.replace(/\n/g, `\n${/^ */.exec(row)![0]}`);
    return edited(editor.text(name), [{ range, newText: indented }]);
  }

  it('are offered where one can begin, and read without a problem', async () => {
    const cases = [
      ['a.route.yaml', `${harborRoute}  ‸\n`, 'new technique'],
      ['a.route.yaml', harborRoute.replace('  - id: rope-yard', '  - ‸\n  - id: rope-yard'), 'new segment'],
      ['a.practice.yaml', 'route: a.route.yaml\nsessions:\n  - ‸\n', 'new session'],
      [
        'a.practice.yaml',
        'route: a.route.yaml\nsessions:\n  - start: 2026-10-04\n    blocks:\n      - ‸\n',
        'new block',
      ],
      ['a.runs.yaml', 'route: a.route.yaml\nruns:\n  - ‸\n', 'new run'],
      ['a.runs.yaml', 'route: a.route.yaml\nruns:\n  - ‸\n', 'new evening'],
      ['a.route.yaml', harborRoute.replace('- crate-vault', '- ‸'), 'new use'],
      ['b.route.yaml', '‸', 'new route'],
      ['a.practice.yaml', '‸', 'new practice log'],
      ['a.runs.yaml', '# mine\n‸\n', 'new run log'],
      ['b.week.yaml', '‸', 'new week'],
    ] as const;
    for (const [name, text, label] of cases) {
      const after = await taken(name, text, label);
      const kind = name.split('.')[1] as FileKind;
      expect(readSource(kind, after!).problems, `${label}\n${after}`).toEqual([]);
    }
    expect(await taken('a.runs.yaml', cases[4][1], 'new run')).toContain(
      '  - start: 2026-10-05\n    total: 40:00\n',
    );
  });

  it('of a whole file name the route beside it, and are offered to an empty file only', async () => {
    expect(await taken('a.week.yaml', '‸', 'new week')).toBe(
      'route: a.route.yaml\ndays: { mon: 50 }\nblock: 25',
    );
    expect(await taken('a.week.yaml', 'block: 20\n‸\n', 'new week')).toBeUndefined();
  });

  it('are not offered elsewhere, nor to an editor that cannot fill them in', async () => {
    expect(
      await taken('a.runs.yaml', 'route: a.route.yaml\nruns:\n  - ‸\n', 'new run', false),
    ).toBeUndefined();
    expect(await taken('a.runs.yaml', 'route: a.route.yaml\n‸\n', 'new run')).toBeUndefined();
    const inside = harborRoute.replace('    time: 1:30\n', '    time: 1:30\n    ‸\n');
    expect(await taken('a.route.yaml', inside, 'new technique')).toBeUndefined();
  });
});
