/** Tables as people's spreadsheets write them, each with another habit: read as they are meant, or refused with a place. */
import { describe, expect, test } from 'vitest';
import { Desk, empty } from '../helpers/desk.ts';

const route = `game: Lanternfall
category: any%
segments:
  - { id: harbor, name: The Harbor, time: 1:32.4, techniques: [crate-vault, { use: wall-kick, id: tower }] }
  - { id: stairs, time: 2:10.0, techniques: [wall-kick] }
techniques:
  crate-vault: { name: Crate vault, difficulty: 4, saves: 3.2, loses: 1.4 }
  wall-kick: { name: Wall kick, difficulty: 2, saves: 1.5, loses: 0.5 }
`;
const files = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': empty };

/** What `log --import --dry-run --json` says of a table: its entries without their ids, or what it is refused for. */
async function imported(table: string | Uint8Array, ...options: string[]) {
  const desk = new Desk({ ...files, 't.csv': table as string });
  const { code, out, err } = await desk.log('--import', 't.csv', '--dry-run', '--json', ...options);
  expect(desk.text()).toBe(empty);
  if (code === 2) return { refused: err };
  const { added } = JSON.parse(out) as { added: Record<string, unknown>[] };
  return added.map(({ id: _, line: __, ...entry }) => entry);
}

/** Bytes of a text in UTF-16. */
function utf16(text: string, order: 'little' | 'big', mark = true): Uint8Array {
  const bytes = new Uint8Array(Buffer.from(`${mark ? '\uFEFF' : ''}${text}`, 'utf16le'));
  if (order === 'big')
    for (let at = 0; at + 1 < bytes.length; at += 2) bytes.set([bytes[at + 1]!, bytes[at]!], at);
  return bytes;
}

const block = { start: '2026-09-28', technique: 'crate-vault', minutes: 20, landed: [79, 213] };
const plain = 'date,technique,minutes,landed,tries\n2026-09-28,crate-vault,20,79,213\n';

describe('blocks of practice', () => {
  test.each<readonly [habit: string, table: string | Uint8Array]>([
    ['commas', plain],
    ['semicolons', plain.replaceAll(',', ';')],
    ['tabs', plain.replaceAll(',', '\t')],
    ['a line that tells the separator', `sep=;\r\n${plain.replaceAll(',', ';')}`],
    ['line ends of Windows', plain.replaceAll('\n', '\r\n')],
    ['line ends of an old Mac', plain.replaceAll('\n', '\r')],
    ['a byte-order mark', `\uFEFF${plain}`],
    ['UTF-16, little end first', utf16(plain, 'little')],
    ['UTF-16, big end first', utf16(plain, 'big')],
    ['UTF-16 without a mark', utf16(plain, 'little', false)],
    [
      'headings in capitals',
      plain.replace('date,technique,minutes,landed,tries', 'DATE,Technique,MINUTES,Landed,TRIES'),
    ],
    ['spaces around headings and cells', plain.replaceAll(',', ' , ')],
    ['quotation marks around each cell', plain.replaceAll(/[^,\n]+/g, '"$&"')],
    [
      'other headings',
      plain.replace('date,technique,minutes,landed,tries', 'Day,Technique,Mins,Hits,Attempts'),
    ],
    ['units in headings', plain.replace('minutes', 'Duration (min)')],
    ['the name of a technique', plain.replace('crate-vault', 'Crate Vault')],
    ['a name with two spaces and in capitals', plain.replace('crate-vault', 'CRATE  VAULT')],
    ['landed and tries in one cell', 'date,technique,minutes,result\n2026-09-28,crate-vault,20,79/213\n'],
    ['both in the column of landed', 'date,technique,minutes,landed\n2026-09-28,crate-vault,20,79 of 213\n'],
    ['numbers with decimals that are zero', plain.replace('20,79,213', '20.0,79.0,213.0')],
    ['empty lines and an empty row', plain.replace('\n2026', '\n\n,,,,\n2026')],
    ['empty cells at the end of each row', plain.replaceAll('\n', ',,\n')],
    ['a title above', `My practice in autumn\n\n${plain}`],
    ['an empty column with a heading', plain.replace('tries', 'tries,Notes')],
    ['a date with slashes, year first', plain.replace('2026-09-28', '2026/9/28')],
    ['a date with points', plain.replace('2026-09-28', '28.9.2026')],
    ['a date with slashes where one order alone is possible', plain.replace('2026-09-28', '9/28/2026')],
    ['a year of two digits', plain.replace('2026-09-28', '28/09/26')],
    ['the month by its name', plain.replace('2026-09-28', '28 Sep 2026')],
    ['the month first, by its name', plain.replace('2026-09-28', '"Sep 28, 2026"')],
    ['spaces that do not break', plain.replace('crate-vault', 'crate\u00A0vault')],
  ])('with %s', async (_, table) => {
    expect(await imported(table)).toEqual([block]);
  });

  test('with a comma in decimals', async () => {
    const table = 'Datum;Technique;Minuten;landed;tries\n28.09.2026;Wall kick;12,5;79;213\n';
    expect(await imported(table, '--columns', 'Datum=start', '--columns', 'Minuten=minutes')).toEqual([
      { ...block, technique: 'wall-kick', minutes: 12.5 },
    ]);
  });

  test('with the time of day in a column of its own', async () => {
    const table = 'date,clock,technique,minutes,landed,tries\n9/28/2026,7:20 PM,crate-vault,20,79,213\n';
    expect(await imported(table)).toEqual([{ ...block, start: '2026-09-28T19:20' }]);
  });

  test('with a column for each technique', async () => {
    const table = 'date;Crate vault;wall-kick\n2026-09-28;79/213;\n2026-09-29;10/20;"30 of 40"\n';
    const entries = (await imported(table)) as { technique: string; landed: number[] }[];
    expect(entries.map(({ technique, landed }) => [technique, ...landed])).toEqual([
      ['crate-vault', 79, 213],
      ['crate-vault', 10, 20],
      ['wall-kick', 30, 40],
    ]);
  });

  test('with thousands divided in groups', async () => {
    const table = 'date;technique;minutes;landed;tries\n2026-09-28;crate-vault;60;79;1,240\n';
    expect(await imported(table)).toEqual([{ ...block, minutes: 60, landed: [79, 1240] }]);
  });
});

describe('runs', () => {
  test('with columns of techniques, one use of a technique, and a segment by its name', async () => {
    const table =
      'Date;Final time;The Harbor;Crate vault;wall-kick @tower;Ended\n28.9.2026 20:10;3:41,1;1:31,8;1/1;0/1;\n28.9.2026 20:20;;1:40,0;1/2;;stairs:death\n';
    expect(await imported(table)).toEqual([
      {
        start: '2026-09-28T20:10',
        total: '3:41.1',
        times: { harbor: '1:31.8' },
        tried: { 'crate-vault': [1, 1], 'wall-kick@tower': [0, 1] },
      },
      {
        start: '2026-09-28T20:20',
        times: { harbor: '1:40.0' },
        tried: { 'crate-vault': [1, 2] },
        ended: { at: 'stairs', why: 'death' },
      },
    ]);
  });

  test('with a technique in a cell of what was tried and in a column of its own: nothing is lost', async () => {
    const table =
      'date,total,tried,Crate vault\n2026-09-28T20:10,3:41.1,crate-vault=1/2 wall-kick@tower=0/1,0/1\n';
    expect(await imported(table)).toEqual([
      {
        start: '2026-09-28T20:10',
        total: '3:41.1',
        tried: { 'crate-vault': [1, 3], 'wall-kick@tower': [0, 1] },
      },
    ]);
  });
});

describe('what cannot be read', () => {
  test.each<readonly [what: string, table: string, words: string]>([
    [
      'a column that nothing is known of',
      'date,technique,mood\n2026-09-28,crate-vault,fine\n',
      't.csv:1 cannot be read: it is not known what the column mood holds',
    ],
    [
      'a cell beyond the last heading',
      'date,technique\n2026-09-28,crate-vault,20\n',
      't.csv:2  20 stands beyond the last heading.',
    ],
    [
      'a column of data without a heading',
      'date,,technique\n2026-09-28,20,crate-vault\n',
      'a column without a heading holds something',
    ],
    [
      'dates that can be read in two ways',
      plain.replace('2026-09-28', '4/3/2026'),
      'the date 4/3/2026 can be read in two ways; say --dates day-first or --dates month-first',
    ],
    [
      'dates in both orders',
      `${plain.replace('2026-09-28', '28/9/2026')}9/28/2026,crate-vault,20,79,213\n`,
      't.csv:3  The start needs a date',
    ],
    [
      'a moment with a time zone',
      plain.replace('2026-09-28', '2026-09-28T19:30+02:00'),
      'without a time zone',
    ],
    [
      'a percentage',
      plain.replace('79', '37 %'),
      'Landed, tries and attempts are whole numbers such as 12, not 37 %.',
    ],
    ['more landed than tries', plain.replace('79,213', '213,79'), 'Of 79 tries no more than 79 can land.'],
    [
      'counts that stand twice',
      'date,technique,result,landed,tries\n2026-09-28,crate-vault,79/213,79,213\n',
      'This row has its counts twice.',
    ],
    [
      'a quotation mark that is never closed',
      'date,technique\n"2026-09-28,crate-vault\n',
      'a quotation mark that is never closed',
    ],
    [
      'two columns for one thing',
      'date,day,technique\n2026-09-28,2026-09-28,crate-vault\n',
      'two columns hold start',
    ],
    ['a sum below the rows', `${plain}Total,,20,79,213\n`, 't.csv:3  The start needs a date'],
    [
      'a column of runs among blocks',
      'date,technique,total\n2026-09-28,crate-vault,3:41\n',
      'a table of practice has no use for its column total',
    ],
    [
      'a use that the route does not have',
      'date,total,wall-kick@towr\n2026-09-28,3:41,0/1\n',
      'The route has no use wall-kick@towr. Did you mean wall-kick@tower?',
    ],
    [
      'minutes for several techniques',
      'date,minutes,crate-vault,wall-kick\n2026-09-28,20,1/2,1/2\n',
      'cannot be divided',
    ],
  ])('is refused: %s', async (_, table, words) => {
    const answer = await imported(table);
    expect(answer).toEqual({ refused: expect.stringContaining(words) as string });
  });

  test('is refused in an encoding that is not known', async () => {
    const bytes = new Uint8Array([...new TextEncoder().encode(plain), 0xe9, 0x0a]);
    expect(await imported(bytes)).toEqual({
      refused: expect.stringContaining('not text in UTF-8') as string,
    });
  });

  test('is read once the user says what it means', async () => {
    const table = 'date,technique,minutes,landed,tries,mood\n9/3/2026,crate-vault,20,79,213,fine\n';
    const told = ['--columns', 'mood=ignored'];
    const of = (start: string) => [{ ...block, start }];
    expect(await imported(table, ...told, '--dates', 'day-first')).toEqual(of('2026-03-09'));
    expect(await imported(table, ...told, '--dates', 'month-first')).toEqual(of('2026-09-03'));
    expect(await imported(table, ...told, '--dates', 'backwards')).toEqual({
      refused: expect.stringContaining('--dates is day-first or month-first') as string,
    });
  });
});
