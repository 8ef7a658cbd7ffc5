import type { Command } from '../terminal/command.ts';
import { rankCommand } from './rank.ts';
import { asOf, filesNote, readFiles, runner } from './shared.ts';

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
      help: 'A new file to write into, with the mark by which spreadsheets know UTF-8. Left out: it is printed, with a space for each line break in a cell.',
    },
    runner,
    ...ofRanking,
    asOf,
    { name: 'json', help: 'JSON in place of a table: of the part that is named, or of all three.' },
  ],
  notes: [
    filesNote,
    'A table has commas between its cells and one row for each block or run; log --import reads it back. A cell that a ' +
      'spreadsheet would take for a formula gets an apostrophe before it. Notes of a whole session or file are only in the ' +
      'JSON. schemas/export.schema.json describes the JSON.',
  ],
  exits: {
    fine: 'There is an export.',
    findings: 'There is nothing to export.',
    wrong: 'Wrong use, input that cannot be read, or a file that exists or cannot be written.',
  },
  files: [...readFiles, ['NEW-FILE of --to', 'Written, where nothing has that name.']],
  examples: [
    'routewright export practice lanternfall.route.yaml --to practice.csv',
    'routewright export runs',
    'routewright export --json > lanternfall.json',
  ],
};
