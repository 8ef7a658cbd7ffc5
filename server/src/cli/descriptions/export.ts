import type { Command } from '../terminal/command.ts';
import { rankCommand } from './rank.ts';
import { asOf, filesNote, runner } from './shared.ts';

/** What can be exported. */
export const exportParts = ['practice', 'runs', 'ranking'] as const;

const ofRanking = rankCommand.options
  .filter(({ name }) => ['all', 'objective', 'target'].includes(name))
  .map((option) => ({ ...option, help: `For the ranking. ${option.help}` }));

/** The operands, options and help of `export`. */
export const exportCommand: Command = {
  name: 'export',
  summary: 'practice, runs or the ranking as a table for a spreadsheet, or all of it as JSON',
  operands: `[${exportParts.join('|')}] [FILE|FOLDER ...]`,
  operandOneOf: exportParts,
  completes: ['file'],
  options: [
    {
      name: 'to',
      value: 'NEW-FILE',
      completes: 'file',
      help: 'Write into a file that does not exist yet, with the mark of UTF-8 that spreadsheets look for. Left out: print it, a line break in a cell as a space.',
    },
    runner,
    ...ofRanking,
    asOf,
    { name: 'json', help: 'One JSON in place of a table: the part that is named, or all three.' },
  ],
  notes: [
    filesNote,
    'A table has commas between its cells and one row for each block or run; log --import reads it again. A cell that a ' +
      'spreadsheet would take for a formula gets an apostrophe before it. Notes of a whole session or file are in the JSON ' +
      'alone. schemas/export.schema.json describes the JSON.',
    'Exits 0 with an export, 1 where there is nothing to export, 2 on wrong use or input that cannot be read.',
  ],
  examples: [
    'routewright export practice lanternfall.route.yaml --to practice.csv',
    'routewright export runs',
    'routewright export --json > lanternfall.json',
  ],
};
