import { describe, expect, it } from 'vitest';
import { pasteTableHandler, routeSegmentsHandler } from '../../../../server/src/lsp/requests/pasteTable.ts';
import { starterHandler } from '../../../../server/src/lsp/requests/starter.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { edited, harborRoute, openEditor, uriOf } from '../editor.ts';

const route = 'a.route.yaml';

/** What is answered to a table, and the route after it; the text is undefined where nothing is pasted. */
async function pasted(text: string, before = harborRoute, ignored: readonly string[] = []) {
  const { services } = await openEditor({ [route]: before });
  const result = pasteTableHandler(services)({ uri: uriOf(route), table: { text, ignored: [...ignored] } });
  return { ...result, text: result.edit && edited(before, [...result.edit.changes]) };
}

/** A table of rows as a spreadsheet puts it on the clipboard. */
function tabbed(...rows: readonly (readonly string[])[]): string {
  return rows.map((row) => row.join('\t')).join('\r\n') + '\r\n';
}

/** The difference: lines that are new, in order; fails where a line of before is gone or moved. */
function newLines(before: string, after: string | undefined): string[] {
  const rest = (after ?? '').split('\n');
  const added: string[] = [];
  for (const line of before.split('\n')) {
    while (rest.length > 0 && rest[0] !== line) added.push(rest.shift()!);
    expect(rest.shift()).toBe(line);
  }
  return [...added, ...rest];
}

describe('a table of segments', () => {
  it('goes behind the segments of the route, and no other line changes', async () => {
    const table = tabbed(
      ['Segment', 'Time', 'Techniques'],
      ['Pier', '1:02.5', 'Lamp hop'],
      ['Roofs', '45', ''],
    );
    const { text, message, details, fits } = await pasted(table);
    expect(message).toBe('In the table: 2 segments (1:47.5 in all).');
    expect(details).toEqual(['Pier: 1:02.5', 'Roofs: 45']);
    expect(fits).toEqual({ into: route });
    expect(newLines(harborRoute, text)).toEqual([
      '  - id: pier',
      '    name: Pier',
      '    time: 1:02.5',
      '    techniques:',
      '      - { use: lamp-hop, id: second }',
      '  - id: roofs',
      '    name: Roofs',
      '    time: 45',
    ]);
    expect(text).toContain('techniques: [lamp-hop]\n  - id: pier\n');
  });

  it.each([
    ['tabs', 'Segment\tTime\nPier\t1:02.5\n'],
    ['commas', 'Segment,Time\nPier,1:02.5\n'],
    ['semicolons and a decimal comma', 'Segment;Time\nPier;1:02,5\n'],
    ['quotation marks', '"Segment","Time"\n"Pier","1:02.5"\n'],
  ])('may be divided by %s', async (_, table) => {
    expect(newLines(harborRoute, (await pasted(table)).text)).toEqual([
      '  - id: pier',
      '    name: Pier',
      '    time: 1:02.5',
    ]);
  });

  it('has times in three notations, empty lines and a title over merged cells', async () => {
    const table = tabbed(
      ['Lantern route', '', ''],
      ['', '', ''],
      ['Segment', 'Time', ''],
      ['Pier', '92.4', ''],
      ['', '', ''],
      ['Roofs', '1:32,4', ''],
      ['Tower', '0:01:32.4', ''],
      ['', '', ''],
    );
    const { text, details } = await pasted(table);
    expect(details).toEqual(['Pier: 92.4', 'Roofs: 1:32.4', 'Tower: 1:32.4']);
    expect(readSource('route', text ?? '').problems).toEqual([]);
  });

  it('keeps comments, order and line ends of the route', async () => {
    const before = `# mine\r\ngame: A\r\nsegments: # in order\r\n  # the first\r\n  - id: harbor # gate\r\n    time: 90\r\n\r\n# below\r\ntechniques: {}\r\n`;
    const { text } = await pasted('Segment,Time\nPier,62\n', before);
    expect(text).toBe(
      before.replace(
        '    time: 90\r\n',
        '    time: 90\r\n  - id: pier\r\n    name: Pier\r\n    time: 62\r\n',
      ),
    );
  });

  it.each([
    ['nothing', ''],
    ['empty lists', 'game: A\nsegments: [] # none yet\ntechniques: {} # none yet\n'],
    ['keys without a value', 'segments:\ntechniques:\n'],
    [
      'lists in brackets',
      'segments: [{ id: a, time: 3 }]\ntechniques: { b-c: { difficulty: 1, saves: 1 } }\n',
    ],
  ])('and one of techniques go into a route with %s', async (_, before) => {
    const first = await pasted('Technique,Saves,Difficulty,Note\nCrate vault,3.2,4,"two\nlines"\n', before);
    const { text } = await pasted('Segment,Time,Techniques\nPier,62,Crate vault\n', first.text);
    const { value, problems } = readSource('route', text ?? '');
    // Only game and category are for the person to write.
    expect(problems.filter(({ code }) => code !== 'missing-key')).toEqual([]);
    expect(value).toMatchObject({
      segments: expect.arrayContaining([
        { id: 'pier', name: 'Pier', time: 62, techniques: ['crate-vault'] },
      ]) as unknown,
      techniques: { 'crate-vault': { name: 'Crate vault', difficulty: 4, saves: 3.2 } },
    });
    for (const comment of before.match(/# none yet/g) ?? []) expect(text).toContain(comment);
  });

  it('of 5,000 rows is taken in a few seconds', async () => {
    const rows = Array.from({ length: 5000 }, (_, at) => [
      `Room ${at + 1}`,
      `0:${String(at % 60).padStart(2, '0')}.5`,
    ]);
    const { text, message, details } = await pasted(tabbed(['Segment', 'Time'], ...rows));
    expect(message).toMatch(/^In the table: 5,?000 segments/);
    expect(details).toHaveLength(9);
    expect(details.at(-1)).toBe('And 4992 more.');
    expect(text?.match(/^ {2}- id: room-\d+$/gm)).toHaveLength(5000);
  });
});

describe('a table of techniques', () => {
  it('goes behind those of the route, and their uses into its segments', async () => {
    const table = tabbed(
      ['Technique', 'Saves (s)', 'Loses (s)', 'Difficulty (1-10)', 'Segment'],
      ['Mast swing', '2-4', '1,5', '5', 'Harbor gate'],
      ['Mast swing', '3', '1,5', '', 'rope-yard'],
      ['Rope dash', '0.8', '', '2/10', 'rope-yard'],
    );
    const { text, message } = await pasted(table);
    expect(message).toBe('In the table: 2 techniques.');
    const expected = harborRoute
      .replace('backup: lamp-hop }\n', 'backup: lamp-hop }\n      - mast-swing\n')
      .replace('[lamp-hop]\ntech', '[lamp-hop, { use: mast-swing, id: second, saves: 3 }, rope-dash]\ntech');
    expect(text).toBe(`${expected}  mast-swing:
    name: Mast swing
    difficulty: 5
    saves: 2..4
    loses: 1.5
  rope-dash:
    name: Rope dash
    difficulty: 2
    saves: 0.8
`);
  });

  it('does not change what is there already, and says what it skipped and left out', async () => {
    const table = tabbed(
      ['Technique', 'Saves', 'Difficulty', 'Mood'],
      ['Crate Vault', '99', '10', 'good'],
      ['lamp-hop', '99', '10', ''],
      ['Rope dash', '0.8', '2', 'bad'],
    );
    const { text, details } = await pasted(table);
    expect(details).toEqual([
      'Skipped, because the route has them already: Crate vault and lamp-hop.',
      'Nothing is read from the column Mood.',
      'Rope dash: saves 0.8 s, difficulty 2',
    ]);
    expect(newLines(harborRoute, text).join('\n')).not.toContain('99');
  });

  it('pasted twice adds nothing the second time', async () => {
    const table = 'Technique,Saves,Difficulty\nRope dash,0.8,2\n';
    const again = await pasted(table, (await pasted(table)).text);
    expect(again.fits).toBeUndefined();
    expect(again.message).toBe('Everything in the table is in a.route.yaml already. Nothing was written.');
  });
});

describe('what cannot be read', () => {
  it('is said with its line and column, and nothing is pasted', async () => {
    const table = tabbed(
      ['Technique', 'Saves', 'Difficulty'],
      ['Rope dash', 'a lot', '2'],
      ['Mast swing', '16-Sep', '11'],
      ['', '3', '4'],
      ['Roof drop', '#REF!', '4'],
    );
    const { edit, fits, message, details } = await pasted(table);
    expect([edit, fits]).toEqual([undefined, undefined]);
    expect(message).toBe('6 places in the table cannot be read. Nothing was written.');
    expect(details.map((line) => line.split(':')[0])).toEqual([
      'Line 5, column Saves',
      'Line 4',
      'Line 2, column Saves',
      'Line 3, column Difficulty',
      'Line 3, column Saves',
      'Line 5',
    ]);
  });

  it.each([
    ['nothing but signs', '\t\t\t\n\t\t\n', /there is nothing in it/],
    ['a sentence', 'Lamp oil, rope\n', /The first row needs headings: segment and time/],
    ['a page', '<table><tr><td>Segment</td></tr></table>', /The first row needs headings/],
    ['an open quotation mark', 'Segment,Time\n"Pier,62\n', /never closed/],
    ['cells beyond the headings', 'Segment\tTime\nPier\t62\tmore\n', /more stands beyond the last heading/],
    ['merged cells', tabbed(['Segment', 'Time'], ['Pier', '62'], ['', '45']), /names no segment/],
    ['a sum below', tabbed(['Segment', 'Time'], ['A', '1'], ['B', '2'], ['Total', '3']), /seems to sum up/],
    ['another unit', 'Segment,Time (ms)\nPier,62000\n', /write it in seconds/],
  ])('%s', async (_, table, why) => {
    const { edit, details } = await pasted(table);
    expect(edit).toBeUndefined();
    expect(details.join('\n')).toMatch(why);
  });

  it('may be a column, which is then offered to be left out', async () => {
    const table = 'Segment,Time,Techniques\nPier,62,Glass slide\n';
    const { leaveOut, details } = await pasted(table);
    expect(details[0]).toMatch(/^Line 2, column Techniques: No technique is called Glass slide/);
    expect(leaveOut).toEqual(['Techniques']);
    const without = await pasted(table, harborRoute, leaveOut);
    expect(without.details[0]).toBe('Nothing is read from the column Techniques.');
    expect(newLines(harborRoute, without.text)).toEqual(['  - id: pier', '    name: Pier', '    time: 62']);
  });

  it('of the route itself: nothing is written over it', async () => {
    const { edit, message } = await pasted('Segment,Time\nPier,62\n', 'segments:\n  - id: [\n');
    expect(edit).toBeUndefined();
    expect(message).toMatch(/no safe edit fits/);
  });
});

it('names that are markup, code or YAML stay names', async () => {
  const names = [
    '[x](command:run)',
    '$(bug) *Pier*',
    'a: b # c',
    '- id: z',
    '<b>&amp;</b>',
    '=1+2',
    "'quoted'",
    'no',
  ];
  const { text } = await pasted(tabbed(['Segment', 'Time'], ...names.map((name) => [name, '3'])));
  const { value, problems } = readSource('route', text ?? '');
  expect(problems).toEqual([]);
  const segments = value.segments as { readonly id: string; readonly name?: string }[];
  expect(segments.slice(2).map(({ id, name }) => name ?? id)).toEqual(names);
});

describe('a new route', () => {
  const table = { text: 'Segment\tTime\nPier\t1:02.5\n', ignored: [] };

  it('is shown first and then made of the table, with its logs and a week', async () => {
    const { services } = await openEditor({ [route]: harborRoute });
    expect(pasteTableHandler(services)({ uri: null, table })).toEqual({
      message: 'In the table: 1 segment (1:02.5 in all).',
      details: ['Pier: 1:02.5'],
      fits: { into: 'a new route' },
      leaveOut: [],
    });
    const { files } = starterHandler()({ game: 'Lantern Tide', table });
    expect(files.map(({ name }) => name)).toEqual([
      'lantern-tide.route.yaml',
      'lantern-tide.practice.yaml',
      'lantern-tide.runs.yaml',
      'lantern-tide.week.yaml',
    ]);
    expect(readSource('route', files[0]!.text).value).toMatchObject({
      game: 'Lantern Tide',
      segments: [{ id: 'pier', name: 'Pier', time: '1:02.5' }],
    });
  });

  it('is not made of a table that cannot be read', () => {
    expect(() =>
      starterHandler()({ game: 'A', table: { ...table, text: 'Segment,Time\nPier,soon\n' } }),
    ).toThrow('Line 2, column Time: A time is written as 92.4 (seconds)');
  });
});

describe('a row by questions', () => {
  /** What the form says of an answer, and what it writes. */
  const row = (cells: Readonly<Record<string, string>>) =>
    pasted(`${Object.keys(cells).join('\t')}\n"${Object.values(cells).join('"\t"')}"\n`);

  it('is written as a person would have written it', async () => {
    const { text, message } = await row({
      technique: 'Rope swing',
      difficulty: '4',
      saves: '2.5',
      loses: '',
      segments: 'harbor',
    });
    expect(message).toBe('In the table: 1 technique.');
    const added = newLines(harborRoute, text).join('\n');
    expect(added).toMatch(/rope-swing:\n {4}name: Rope swing\n {4}difficulty: 4\n {4}saves: 2\.5/);
    expect(added).not.toContain('loses');
  });

  it.each([
    [{ segment: '', time: '1:00' }, /name/i],
    [{ segment: 'Roofs', time: 'soon' }, /time/i],
    [{ technique: 'Rope swing', difficulty: '11', saves: '1', loses: '' }, /10/],
    [{ technique: 'Rope swing', difficulty: '4', saves: 'much', loses: '' }, /seconds/i],
  ])('says what is wrong with %o, without a line and a column', async (cells, reason) => {
    const { fits, reason: said } = await row(cells);
    expect(fits).toBeUndefined();
    expect(said).toMatch(reason);
    expect(said).not.toMatch(/^line|column/i);
  });

  it('is offered the segments of the route by name; a file without a route is refused', async () => {
    const { services } = await openEditor({ [route]: harborRoute });
    const answer = routeSegmentsHandler(services)({ uri: uriOf(route) });
    const segments = [
      { id: 'harbor', name: 'Harbor gate' },
      { id: 'rope-yard', name: 'rope-yard' },
    ];
    expect(answer).toEqual({ segments });
    expect(routeSegmentsHandler(services)({ uri: uriOf('no.route.yaml') })).toHaveProperty('message');
  });
});
