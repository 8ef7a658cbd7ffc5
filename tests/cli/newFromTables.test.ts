/** Routes out of tables as people's spreadsheets write them: read as they are meant, or refused with row and column. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatEdits } from '../../server/src/files/edit/formatEdits.ts';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { folderOf, routewright, textOf } from './place.ts';

const segments = 'segment,time\nHarbor gate,1:32.4\nRope yard,2:08\n';
const techniques =
  'technique,segment,difficulty,saves,loses\nCrate vault,Harbor gate,4,3.2,1.4\nLamp hop,Rope yard,6,9..16,\n';

type Tables = Readonly<Record<string, string | Uint8Array>>;

/** The route that is made of tables, as text; or what it is refused for. */
async function made(tables: Tables, ...options: string[]): Promise<{ text: string } | { refused: string }> {
  const folder = folderOf(tables);
  const from = Object.keys(tables).flatMap((name) => ['--from', name]);
  const { code, out, err } = await routewright(folder, ['new', 'made', ...from, '--json', ...options]);
  if (code !== 0) {
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(existsSync(join(folder, 'made'))).toBe(false);
    return { refused: err };
  }
  const { files } = JSON.parse(out) as { files: string[] };
  expect(files.map((name) => name.split('.')[1])).toEqual(['route', 'practice', 'runs', 'week']);
  const text = textOf(folder, files[0]!);
  // Whatever is made is a route that nobody has to mend, laid out as `format` would.
  const reading = readSource('route', text);
  expect(reading.problems).toEqual([]);
  expect(formatEdits(reading)).toEqual([]);
  const checked = await routewright(folder, ['check', 'made', '--json']);
  expect(checked.code, checked.out).toBe(0);
  return { text };
}

/** The value of the route that is made. */
async function route(tables: Tables, ...options: string[]): Promise<Record<string, unknown>> {
  const answer = await made(tables, ...options);
  if ('refused' in answer) throw new Error(answer.refused);
  return readSource('route', answer.text).value;
}

async function refusal(tables: Tables, ...options: string[]): Promise<string> {
  const answer = await made(tables, ...options);
  expect(answer).toHaveProperty('refused');
  return 'refused' in answer ? answer.refused : '';
}

/** Bytes of a text in UTF-16, little end first. */
function utf16(text: string): Uint8Array {
  return new Uint8Array(Buffer.from(`\uFEFF${text}`, 'utf16le'));
}

const harborAndYard = [
  { id: 'harbor-gate', name: 'Harbor gate', time: '1:32.4' },
  { id: 'rope-yard', name: 'Rope yard', time: '2:08' },
];

describe('segments alone', () => {
  test.each<readonly [habit: string, table: string | Uint8Array]>([
    ['commas', segments],
    ['semicolons', segments.replaceAll(',', ';')],
    ['tabs', segments.replaceAll(',', '\t')],
    ['a line that tells the separator', `sep=;\r\n${segments.replaceAll(',', ';')}`],
    ['line ends of Windows', segments.replaceAll('\n', '\r\n')],
    ['a byte-order mark', `\uFEFF${segments}`],
    ['UTF-16', utf16(segments)],
    ['headings in capitals', segments.replace('segment,time', 'SEGMENT,TIME')],
    ['other headings', segments.replace('segment,time', 'Section,Usual time')],
    ['units in headings', segments.replace('segment,time', 'Name:,"Time (m:ss)"')],
    ['spaces around cells', segments.replaceAll(',', ' , ')],
    ['quotation marks around each cell', segments.replaceAll(/[^,\n]+/g, '"$&"')],
    ['a comma in times', segments.replaceAll(',', ';').replace('1:32.4', '1:32,4')],
    ['hours in times', segments.replace('1:32.4', '0:01:32.4').replace('2:08', '00:02:08')],
    ['zeros before times', segments.replace('1:32.4', '01:32.4').replace('2:08', '02:08')],
    ['a title and an empty line above', `Lanternfall any%\n\n${segments}`],
    ['empty rows and cells', segments.replaceAll('\n', ',,\n').replace('Rope', ',,\nRope')],
    ['numbers before the rows', '#,segment,time\n1,Harbor gate,1:32.4\n2,Rope yard,2:08\n'],
    ['rows in another order, with numbers', 'No.,segment,time\n2.,Rope yard,2:08\n1.,Harbor gate,1:32.4\n'],
    ['spaces that do not break', segments.replaceAll(' ', '\u00A0')],
    ['an empty column', segments.replace('segment,time', 'segment,time,mood')],
  ])('with %s', async (_, table) => {
    const made = await route({ 't.csv': table });
    expect(made).toMatchObject({ segments: harborAndYard, techniques: {} });
  });

  test('are written as a person writes them', async () => {
    const table =
      'Segment;Time;SD;Survive (%);Notes;Video;x-colour\n' +
      'Harbor gate;1:32,4;1,1;99;"Gate: roll, then\nclip";https://example.org/a https://example.org/b;blue\n' +
      'Wächter 2: "the hall";92.4s;;97.5 %;;;3\n灯;61.25;;;;;\nno;1:00;;;;;\n';
    const answer = await made({ 't.csv': table }, '--game', "Lantern's fall", '--category', 'any%');
    expect('text' in answer && answer.text).toBe(`game: Lantern's fall
category: any%
restart: 10 # seconds from a reset to the next start

segments:
  - id: harbor-gate
    name: Harbor gate
    time: 1:32.4
    spread: 1.1
    survive: 0.99
    notes: |
      Gate: roll, then
      clip
    links: ["https://example.org/a", "https://example.org/b"]
    x-colour: blue
  - id: wachter-2-the-hall
    name: "Wächter 2: \\"the hall\\""
    time: 92.4
    survive: 0.975
    x-colour: 3
  - id: segment-1
    name: 灯
    time: 61.25
  - id: "no"
    time: 1:00

techniques: {}
`);
  });

  test('two of one name get two ids', async () => {
    const table = 'segment,time\nHarbor,1:00\nHarbor,1:10\nharbor!,1:20\n';
    const { segments: made } = await route({ 't.csv': table });
    expect((made as { id: string }[]).map(({ id }) => id)).toEqual(['harbor', 'harbor-2', 'harbor-3']);
  });
});

describe('techniques', () => {
  test('and the segments that they are used in', async () => {
    const made = await route({ 'segments.csv': segments, 'techniques.csv': techniques });
    expect(made).toMatchObject({
      segments: [
        { ...harborAndYard[0], techniques: ['crate-vault'] },
        { ...harborAndYard[1], techniques: ['lamp-hop'] },
      ],
      techniques: {
        'crate-vault': { name: 'Crate vault', difficulty: 4, saves: 3.2, loses: 1.4 },
        'lamp-hop': { name: 'Lamp hop', difficulty: 6, saves: '9..16' },
      },
    });
  });

  test.each<readonly [habit: string, from: string, to: string]>([
    ['a comma in numbers', '4,3.2,1.4', '"4,0","3,2","1,4"'],
    ['units in cells', '3.2,1.4', '3.2s,1.4 sec'],
    ['a time', '3.2,1.4', '0:03.2,00:01.4'],
    ['a plus sign', '3.2,1.4', '+3.2,1.4'],
    ['a difficulty out of ten', ',4,', ',4/10,'],
    ['a range with a hyphen', '9..16', '9-16'],
    ['a range with a dash and unit', '9..16', '9 – 16 s'],
    ['a range in words', '9..16', '9 to 16'],
    ['a sign for nothing', '9..16,', '9..16,-'],
    ['another sign for nothing', '9..16,', '9..16,N/A'],
    ['the id of a segment', 'Harbor gate,4', 'harbor-gate,4'],
    ['a segment in capitals', 'Harbor gate,4', 'HARBOR  GATE,4'],
    [
      'other headings',
      'technique,segment,difficulty,saves,loses',
      'Trick,Used in,Difficulty (1-10),Time saved (s),Time lost (s)',
    ],
    ['headings with underscores', 'saves,loses', 'time_saved,time_lost'],
  ])('with %s', async (_, from, to) => {
    const plain = await route({ 's.csv': segments, 't.csv': techniques });
    expect(techniques).toContain(from);
    expect(await route({ 's.csv': segments, 't.csv': techniques.replace(from, to) })).toEqual(plain);
  });

  test('in several segments, by several names in a cell or by several rows', async () => {
    const inCell = 'technique,difficulty,saves,used in\nWall kick,2,1.5,"Rope yard; Harbor gate"\n';
    expect(await route({ 's.csv': segments, 't.csv': inCell })).toMatchObject({
      segments: [{ techniques: ['wall-kick'] }, { techniques: [{ use: 'wall-kick', id: 'second' }] }],
    });
    const inRows =
      'technique,difficulty,saves,used in\nWall kick,2,1.5,Harbor gate\nwall kick,,4..6,Rope yard\n';
    expect(await route({ 's.csv': segments, 't.csv': inRows })).toMatchObject({
      segments: [
        { techniques: ['wall-kick'] },
        { techniques: [{ use: 'wall-kick', id: 'second', saves: '4..6' }] },
      ],
      techniques: { 'wall-kick': { saves: 1.5 } },
    });
  });

  test('named by a column of the segments', async () => {
    const table = 'segment,time,techniques\nHarbor gate,1:32.4,"Crate vault, Lamp hop"\n';
    const without = techniques.replace(',segment', '').replace(/,(Harbor gate|Rope yard)/g, '');
    expect(await route({ 's.csv': table, 't.csv': without })).toMatchObject({
      segments: [{ techniques: ['crate-vault', 'lamp-hop'] }],
    });
  });

  test('with needs, a quick repeat and a miss that ends the run', async () => {
    const table =
      'id,name,difficulty,saves,ends the run,needs,attempt,reload,practise from\n' +
      'kick,Wall kick,2,1.5,no,,,,\nvault,Crate vault,4,3.2,x,"Wall kick",4,1.5,"quay, left"\n';
    const { techniques: made } = await route({ 't.csv': table });
    expect(made).toEqual({
      kick: { name: 'Wall kick', difficulty: 2, saves: 1.5 },
      vault: {
        name: 'Crate vault',
        difficulty: 4,
        saves: 3.2,
        ends_run: true,
        needs: ['kick'],
        practice: { attempt: 4, reload: 1.5, from: 'quay, left' },
      },
    });
  });
});

describe('what cannot be read', () => {
  const both = (table: string) => ({ 's.csv': segments, 't.csv': table });
  const from = (cell: string, by: string) => both(techniques.replace(cell, by));
  test.each<readonly [what: string, tables: Tables, sentence: string]>([
    [
      'a column that nothing is known of',
      { 't.csv': 'segment,time,mood\nHarbor,1:00,fine\n' },
      't.csv:1  It is not known what the column mood holds. You can say --columns "mood=MEANING" or --columns "mood=ignored".',
    ],
    [
      'several of them, all at once',
      { 't.csv': 'segment,time,mood,,weather\nHarbor,1:00,fine,x,rain\n' },
      't.csv:1  It is not known what the column weather holds.',
    ],
    [
      'a column without a heading',
      { 't.csv': 'segment,,time\nHarbor,x,1:00\n' },
      't.csv:1  A column without',
    ],
    ['a cell beyond the headings', { 't.csv': 'segment,time\nHarbor,1:00,x\n' }, 't.csv:2  x stands beyond'],
    ['no name', { 't.csv': 'segment,time\n,1:00\n' }, 't.csv:2  This row names no segment.'],
    ['no time', { 't.csv': 'segment,time\nHarbor,\n' }, 't.csv:2  This row does not say its usual time'],
    [
      'a time in words',
      { 't.csv': 'segment,time\nHarbor,1m32\n' },
      't.csv:2  column time: A time is written as 92.4 (seconds)',
    ],
    [
      'minutes',
      { 't.csv': 'segment,Time (min)\nHarbor,1.5\n' },
      'the column Time (min) is in min: write it in',
    ],
    [
      'a chance above one',
      { 't.csv': 'segment,time,survive\nA,9,98\n' },
      'column survive: A chance is above 0',
    ],
    ['rows that sum up', { 't.csv': `${segments}Total,3:40.4\n` }, 't.csv:4  Total seems to sum up the rows'],
    [
      'rows alone',
      { 't.csv': 'Harbor gate,1:32.4\nRope yard,2:08\n' },
      'no column tells the time of a segment',
    ],
    ['headings alone', { 't.csv': 'segment,time\n' }, 't.csv  It has headings and no rows below them.'],
    ['an empty file', { 't.csv': '' }, 't.csv  It cannot be read: there is nothing in it.'],
    ['two columns for one thing', { 't.csv': 'segment,time,avg\nA,9,9\n' }, 'time and avg both hold time'],
    [
      'a number twice',
      { 't.csv': '#,segment,time\n1,A,9\n1,B,9\n' },
      't.csv:3  column #: The number 1 stands',
    ],
    ['no id', { 't.csv': 'id,segment,time\nHarbor Gate,A,9\n' }, 'column id: Harbor Gate is no valid id'],
    ['an id twice', { 't.csv': 'id,segment,time\na,A,9\na,B,9\n' }, 't.csv:3  column id: The id a is in use'],
    [
      'an error of a spreadsheet',
      from('3.2', '#REF!'),
      't.csv:2  column saves: The spreadsheet could not work',
    ],
    ['a range that became a date', from('9..16', '16-Sep'), 't.csv:3  column saves: 16-Sep is a date, which'],
    [
      'a difficulty that became a date',
      from(',4,', ',04-Oct,'),
      'column difficulty: 04-Oct is a date, which',
    ],
    [
      'a difficulty of eleven',
      from(',4,', ',11,'),
      'A difficulty is a number from 1 (easy) to 10 (very hard)',
    ],
    ['no difficulty', from(',4,', ',,'), 't.csv:2  This row does not say its difficulty, from 1'],
    ['a loss with a sign', from('1.4', '-1.4'), 't.csv:2  column loses: Seconds are written without a sign'],
    ['a range from high to low', from('9..16', '16..9'), 'A range begins with its smaller number: 9..16'],
    [
      'words where no range can be',
      { 't.csv': 'segment,time,spread\nHarbor,9,some\n' },
      't.csv:2  column spread: Seconds are a number such as 3.2, not some.',
    ],
    ['a guess', from('3.2', '~3'), 't.csv:2  column saves: Seconds are a number such as 3.2, or a range'],
    [
      'a mistyped segment',
      from('Rope yard', 'Rope yrad'),
      'No segment is called Rope yrad. Did you mean rope-yard?',
    ],
    [
      'segments without a table',
      { 't.csv': techniques },
      'No segment is called Harbor gate. Add it to a table',
    ],
    ['a technique that stands twice', both(`${techniques}Lamp hop,,6,9..16,\n`), 'Lamp hop stands in line 3'],
    [
      'a technique with two difficulties',
      both(`${techniques}Lamp hop,Harbor gate,7,,\n`),
      't.csv:4  column difficulty: An earlier row of this technique has 6 here, and this one 7.',
    ],
    ['a column told that is not there', both(techniques), 'No table has a column Worth.'],
  ])('is refused: %s', async (what, tables, sentence) => {
    const options = what.startsWith('a column told') ? ['--columns', 'Worth=saves'] : [];
    const refused = await refusal(tables, ...options);
    expect(refused).toContain(sentence);
    expect(refused).toContain('Nothing was written.');
  });

  test('every place is listed, the first ten one by one', async () => {
    const rows = Array.from({ length: 12 }, (_, n) => `S${n},soon\n`).join('');
    const refused = await refusal({ 't.csv': `segment,time\n${rows}` });
    expect(refused.match(/^t\.csv:\d+ {2}column time/gm)).toHaveLength(10);
    expect(refused).toContain('And 2 more places. Nothing was written.');
  });

  test('is read once the user says what it means', async () => {
    const table = 'Nombre,Tiempo,mood\nHarbor gate,1:32.4,fine\n';
    const told = ['--columns', 'Nombre=name,Tiempo=time', '--columns', 'mood=ignored'];
    expect(await route({ 't.csv': table }, ...told)).toMatchObject({ segments: [harborAndYard[0]] });
    expect(await refusal({ 't.csv': table }, '--columns', 'Tiempo=tiem')).toContain('no column tells');
    expect(await refusal({ 't.csv': table }, '--columns', 'Tiempo=time,mood=saves')).toContain(
      'no column of techniques can hold time',
    );
  });

  test('names that may be in a table that is refused are not reported as well', async () => {
    const refused = await refusal({
      's.csv': 'segment,time,mood\nRope yard,1:00,fine\n',
      't.csv': techniques,
    });
    expect(refused).toContain('1 place cannot be read.');
  });

  test('a file that is not there', async () => {
    const { code, err } = await routewright(folderOf({}), ['new', '--from', 'none.csv']);
    expect({ code, err }).toEqual({
      code: 2,
      err: 'none.csv cannot be read: it does not exist. Nothing was written.\n',
    });
  });
});

describe('--dry-run', () => {
  test('shows the tables as they are understood, and writes nothing', async () => {
    const folder = folderOf({ 's.csv': segments, 't.csv': `${techniques}Slide,,1,1,\n` });
    const argv = ['new', '--from', 's.csv', '--from', 't.csv', '--dry-run'];
    const { code, out } = await routewright(folder, argv);
    expect(code).toBe(0);
    for (const words of ['Harbor gate', 'crate-vault', '9..16 s', '2 segments (3:40.4 in all)'])
      expect(out).toContain(words);
    expect(out).toMatch(/Used\s+in\s+no\s+segment\s+yet:\s+Slide\./);
    const { out: json } = await routewright(folder, [...argv, '--json']);
    expect(JSON.parse(json)).toMatchObject({ dryRun: true, segments: [{ id: 'harbor-gate' }, {}] });
    expect(readdirSync(folder).sort()).toEqual(['s.csv', 't.csv']);
  });

  test('and --columns are about a table', async () => {
    for (const argv of [['--dry-run'], ['--columns', 'A=time']])
      expect((await routewright(folderOf({}), ['new', ...argv])).err).toContain('--from FILE.csv');
  });
});

test('what is printed next can be copied into a shell', async () => {
  const folder = folderOf({ 's.csv': segments });
  const { out, err } = await routewright(folder, ['new', "it's new", '--from', 's.csv']);
  expect(err).toBe('');
  expect(out).toContain(String.raw`Next: routewright check 'it'\''s new/my-game.route.yaml'`);
});
