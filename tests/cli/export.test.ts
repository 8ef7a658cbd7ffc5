/** What is exported: tables that are read again without a loss, and one JSON that fits its published schema. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toFlowYaml } from '../../server/src/files/edit/flowYaml.ts';
import { splitTable } from '../../server/src/tables/splitTable.ts';
import { guarded, unguarded, writeTable } from '../../server/src/tables/tableCells.ts';
import { Desk } from '../helpers/desk.ts';
import { folderOf, repository, routewright, samples, textOf } from './place.ts';

const route = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, { use: wall-kick, id: tower }] }
  - { id: stairs, time: 2:10.0, techniques: [wall-kick] }
techniques:
  crate-vault: { name: Crate vault, difficulty: 4, saves: 3.2, loses: 1.4 }
  wall-kick: { name: =Wall kick, difficulty: 2, saves: 1.5, loses: 0.5 }
`;
const own = 'lanternfall.route.yaml';
const logs = {
  practice: { name: 'lanternfall.practice.yaml', empty: `route: ${own}\nsessions: []\n` },
  runs: { name: 'lanternfall.runs.yaml', empty: `route: ${own}\nruns: []\n` },
} as const;

const schemas = ['common', 'practice', 'runs', 'export'].map(
  (name) => JSON.parse(readFileSync(join(repository, `schemas/${name}.schema.json`), 'utf8')) as object,
);
// S: ajv 8, a validator of JSON Schema, given the schemas as they are published.
const fits = new Ajv({ schemas, strict: false, allErrors: true }).getSchema(
  'https://routewright.invalid/schemas/export.schema.json',
)!;

async function exported(folder: string, ...argv: string[]) {
  return routewright(folder, ['export', ...argv]);
}

/** A file's text with these entries. */
function logText(key: 'sessions' | 'runs', entries: readonly object[]): string {
  return `route: ${own}\n${key}:\n${entries.map((entry) => `  - ${toFlowYaml(entry)}\n`).join('')}`;
}

const techniques = fc.constantFrom('crate-vault', 'wall-kick');
const uses = fc.constantFrom('crate-vault', 'wall-kick', 'wall-kick@tower');
const segments = fc.constantFrom('harbor', 'stairs');
const counts = fc
  .tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }))
  .map(([a, b]) => [Math.min(a, b), Math.max(a, b)]);
const tried = fc.dictionary(uses, counts, { minKeys: 1, maxKeys: 3, noNullPrototype: true });
const minutes = fc.constantFrom(5, 12.5, 20, 33.3);
const words = fc.constantFrom('emulator', '=1+1', '-console', "'@home", 'say "hop", then\njump', '5', '灯');
const also = fc.record({ on: words, notes: words, 'x-mood': words }, { requiredKeys: [] });
const dates = fc.integer({ min: 1, max: 28 }).map((day) => `2026-09-${String(day).padStart(2, '0')}`);
// So far apart that no session overlaps the next; one without a time of day counts from noon on.
const clocks = fc.constantFrom('', 'T15:05', 'T18:30', 'T21:10:30');
const starts = fc.tuple(dates, clocks).map(([date, clock]) => date + clock);

const block = fc
  .tuple(
    fc.oneof(
      fc.record({ technique: techniques, minutes, landed: counts }),
      fc.record({ technique: techniques, minutes, seen: counts, attempts: fc.integer({ min: 60, max: 90 }) }),
      fc.record({ technique: techniques, minutes, tape: fc.constantFrom('l', 'lmml', 'mmmmml') }),
      fc.record({ technique: techniques, minutes }),
      fc.record({ segment: segments, minutes, tried }),
    ),
    also,
  )
  .map(([what, more]) => ({ ...what, ...more }));
const session = fc.record({ start: starts, blocks: fc.array(block, { minLength: 1, maxLength: 4 }) });
const times = fc.dictionary(
  segments,
  fc.constantFrom<string | number>('1:31.85', 92.425, 131, '2:09', 59.5),
  {
    minKeys: 1,
    noNullPrototype: true,
  },
);
const run = fc
  .tuple(
    fc.oneof(
      fc.record({ start: starts, total: fc.constantFrom<string | number>('3:41.25', 221.125), tried }),
      fc.record({ start: starts, times, tried, first: tried }, { requiredKeys: ['start', 'times'] }),
      fc.record({
        start: starts,
        tried,
        ended: fc.constantFrom<object>(
          { at: 'harbor', why: 'reset' },
          { at: 'stairs', why: 'miss', by: 'wall-kick' },
        ),
      }),
      fc.record({ start: starts, tried }),
      fc.record(
        {
          date: dates,
          minutes,
          runs: fc.integer({ min: 5, max: 9 }),
          finished: fc.integer({ min: 0, max: 5 }),
          ended: fc.constantFrom({ harbor: { reset: 3, death: 1 } }, { stairs: { miss: 2 } }),
          tried,
        },
        { requiredKeys: ['date', 'runs'] },
      ),
    ),
    also,
  )
  .map(([what, more]) => ({ ...what, ...more }));

test('practice and runs, exported and read into empty logs, give the same ranking and the same entries', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uniqueArray(session, { minLength: 1, maxLength: 5, selector: ({ start }) => start }),
      fc.array(run, { minLength: 1, maxLength: 5 }),
      async (sessions, runs) => {
        const from = folderOf({
          [own]: route,
          [logs.practice.name]: logText('sessions', sessions),
          [logs.runs.name]: logText('runs', runs),
        });
        const desk = new Desk({
          [own]: route,
          [logs.practice.name]: logs.practice.empty,
          [logs.runs.name]: logs.runs.empty,
        });
        for (const part of ['practice', 'runs'] as const) {
          const file = join(desk.folder, `${part}.csv`);
          const { code, err } = await exported(from, part, '--to', file);
          expect({ code, err }).toEqual({ code: 0, err: '' });
          const added = await desk.log('--import', `${part}.csv`);
          expect(added.err).toBe('');
          expect(added.out).toContain(', no rows refused.');
        }
        const ranking = async (folder: string) =>
          (await routewright(folder, ['rank', own, '--all', '--json'])).out;
        expect(await ranking(desk.folder)).toBe(await ranking(from));
        // The tables of what was read are those of what was exported, but for the ids that were given; and two sittings
        // with a short rest between them become one, so that of their blocks only the day stays.
        for (const part of ['practice', 'runs'] as const)
          expect(rowsByDay((await exported(desk.folder, part)).out)).toEqual(
            rowsByDay((await exported(from, part)).out),
          );
      },
    ),
    { numRuns: 10, seed: 20261128, endOnFailure: true },
  );
});

/** The cells of a table, by rows, as another reader gives them. */
function cellsOf(text: string): string[][] {
  return parse(text);
}

/** The rows of a table without their ids and times of day, in an order of their own. */
function rowsByDay(text: string): string[] {
  const rows = cellsOf(text);
  const at = rows[0]!.indexOf('id');
  return rows
    .map(([start = '', ...row]) => [start.slice(0, 10), ...(at < 0 ? row : row.toSpliced(at - 1, 1))])
    .map((row) => JSON.stringify(row))
    .sort();
}

describe('a table', () => {
  test('has a row for each block or run', async () => {
    const folder = folderOf({
      [own]: route,
      [logs.practice.name]: logText('sessions', [
        {
          start: '2026-09-28T19:30',
          blocks: [
            { id: 'b-1', technique: 'crate-vault', minutes: 25, landed: [61, 104], notes: '=HYPERLINK("x")' },
            { technique: 'wall-kick', minutes: 12.5, seen: [6, 10] },
            { segment: 'harbor', minutes: 20, tried: { 'wall-kick@tower': [3, 4] } },
          ],
        },
      ]),
      [logs.runs.name]: logText('runs', [
        { start: '2026-09-29', total: 221.125, times: { stairs: 131, harbor: '1:30.125' }, on: '+console' },
        { date: '2026-09-30', runs: 9, finished: 2, ended: { harbor: { reset: 5, death: 2 } } },
      ]),
    });
    expect((await exported(folder, 'practice')).out).toBe(
      `start,technique,segment,minutes,landed,tries,seen,tried,notes,id
2026-09-28T19:30,crate-vault,,25,61,104,,,"'=HYPERLINK(""x"")",b-1
2026-09-28T19:30,wall-kick,,12.5,,,6 of 10,,,
2026-09-28T19:30,,harbor,20,,,,wall-kick@tower=3/4,,
`,
    );
    expect((await exported(folder, 'runs')).out).toBe(
      `start,total,harbor,stairs,tried,ended,runs,finished,on
2026-09-29,3:41.125,1:30.125,2:11,,,,,'+console
2026-09-30,,,,,harbor:reset=5 harbor:death=2,9,2,
`,
    );
    const ranking = parse<object>((await exported(folder, 'ranking', '--all')).out, { columns: true });
    expect(ranking).toMatchObject([{ place: '1' }, { place: '2' }]);
    // A name that begins like a formula.
    expect(ranking).toContainEqual(expect.objectContaining({ technique: 'wall-kick', name: "'=Wall kick" }));
  });

  test('of entries that are the same keeps each of them', async () => {
    const twice = { technique: 'crate-vault', minutes: 25, landed: [10, 20] };
    const text = logText('sessions', [{ start: '2026-09-28', blocks: [twice, twice] }]);
    const { out } = await exported(folderOf({ [own]: route, [logs.practice.name]: text }), 'practice');
    expect(out.trim().split('\n').slice(1)).toEqual([
      '2026-09-28,crate-vault,25,10,20,',
      '2026-09-28,crate-vault,25,10,20,b-20260928-2',
    ]);
  });

  test('goes into a new file in UTF-8 with a mark and line ends of RFC 4180, and never over another', async () => {
    const folder = folderOf({ [own]: route, [logs.practice.name]: logs.practice.empty });
    const { code, out } = await exported(folder, 'practice', '--to', 'table.csv');
    expect({ code, out }).toEqual({ code: 1, out: 'Written to table.csv: no rows.\n' });
    expect(textOf(folder, 'table.csv')).toBe('\uFEFFstart,technique,minutes,landed,tries\r\n');
    const again = await exported(folder, 'practice', '--to', 'table.csv');
    expect(again).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('exists already') as string,
    });
    const all = await exported(folder, '--json', '--to', 'all.json');
    expect(all).toMatchObject({ code: 0, out: 'Written to all.json: practice, runs and ranking.\n' });
  });
});

describe('JSON', () => {
  test('of the sample fits the published schema, whole and in parts', async () => {
    const { code, out } = await exported(samples, '--json');
    expect(code).toBe(0);
    const all = JSON.parse(out) as Record<string, unknown>;
    expect(fits(all), JSON.stringify(fits.errors)).toBe(true);
    expect(Object.keys(all)).toEqual(['version', 'route', 'runner', 'practice', 'runs', 'ranking']);
    const rank = JSON.parse((await routewright(samples, ['rank', '--json'])).out) as Record<string, unknown>;
    expect(rank).toMatchObject(all['ranking'] as object);
    const part = JSON.parse((await exported(samples, 'runs', '--json')).out) as object;
    expect(fits(part), JSON.stringify(fits.errors)).toBe(true);
    expect(Object.keys(part)).toEqual(['version', 'route', 'runner', 'runs']);
  });

  test('of files with mistakes has what could be read', async () => {
    const folder = folderOf({
      [own]: route,
      [logs.practice.name]:
        `route: ${own}\nsessions:\n  - start: 2026-09-28\n    blocks:\n      - { technique: crate-vault, minutes: long }\n      - { technique: wall-kick, minutes: 5 }\n  - start: soon\n`,
    });
    const { out } = await exported(folder, 'practice', '--json');
    expect(fits(JSON.parse(out)), JSON.stringify(fits.errors)).toBe(true);
    expect(out).toContain('wall-kick');
  });

  test('a schema that accepts anything would not be one', () => {
    expect(fits({ version: 1, route: { file: 'a', game: null, category: null }, runner: null })).toBe(true);
    expect(fits({ version: 2, route: { file: 'a', game: null, category: null }, runner: null })).toBe(false);
    expect(
      fits({
        version: 1,
        route: { file: 'a', game: null, category: null },
        runner: null,
        runs: [{ file: 'b', runs: [{}] }],
      }),
    ).toBe(false);
  });
});

test('any text in a cell is read back as it is, and no cell begins like a formula', () => {
  // The signs: OWASP, "CSV Injection" (from memory).
  fc.assert(
    fc.property(
      fc.array(fc.string({ unit: fc.constantFrom(...`=+-@'",;ab 1\t`) }), { minLength: 2 }),
      (texts) => {
        const cells = ['a', ...texts.map((text) => text.trim()), 'b'];
        const table = writeTable(
          cells.map((_, at) => `h${at}`),
          [cells],
        );
        const raw = cellsOf(table)[1]!;
        for (const cell of raw)
          expect(/^[=+\-@\t\r]/.test(cell) && !/^[+-]?\d+$/.test(cell), cell).toBe(false);
        const split = splitTable(table);
        expect('rows' in split && split.rows[0]!.cells).toEqual(cells);
      },
    ),
  );
  expect(guarded('-3.5')).toBe('-3.5');
  expect(unguarded("'quoted'")).toBe("'quoted'");
});

test.each([
  [[], 'Say what to export: routewright export practice'],
  [['practise'], 'There is no table of practise. Did you mean practice?'],
  [['lanternfall.route.yaml'], 'Say what to export: routewright export practice'],
])('%j exits 2 with a sentence', async (argv, sentence) => {
  const { code, out, err } = await exported(folderOf({ [own]: route }), ...argv);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toContain(sentence);
});
