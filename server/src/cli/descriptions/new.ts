import type { Command } from '../terminal/command.ts';
import { json } from './shared.ts';

/** The operands, options and help of `new`. */
export const newCommand: Command = {
  name: 'new',
  summary: 'a new route with logs and a week: an example, or made from a table',
  operands: '[FOLDER]',
  completes: ['folder'],
  options: [
    { name: 'game', value: 'NAME', help: 'The game. Left out: My game.' },
    { name: 'category', value: 'NAME', help: 'The category. Left out: any%.' },
    {
      name: 'from',
      value: 'FILE.csv',
      completes: 'file',
      repeatable: true,
      help: 'Make the route from tables of a spreadsheet: one of segments, one of techniques, or both.',
    },
    {
      name: 'columns',
      value: 'HEADING=MEANING',
      repeatable: true,
      help: 'What a column of a table holds, where its heading does not say; ignored leaves it out. May be repeated.',
    },
    { name: 'dry-run', help: 'Show the tables as they are understood, and write nothing.' },
    json,
  ],
  notes: [
    'Creates the folder where it does not exist. A file that exists is never overwritten.',
    'A table has a row of headings, and commas, semicolons or tabs between its cells. Columns of segments: name, time, and ' +
      'any of id, spread, survive, techniques (those used there), notes, links. Columns of techniques: name, difficulty, ' +
      'saves, and any of id, loses, ends_run, needs, segments (where it is used), attempt, reload, from, notes, links. A column ' +
      'whose heading begins with x- is kept as a key of your own. Other usual headings, such as Time saved, are understood. A technique may have a row for each segment. ' +
      'What cannot be read is refused with its row and column before anything is written, and so is a column that is not ' +
      'empty and whose heading means nothing here.',
  ],
  exits: {
    fine: 'Files were written, or a dry run was shown.',
    wrong: 'Nothing was written.',
  },
  files: [
    ['FOLDER/NAME.route.yaml', 'Written, and the practice, runs and week file of the same name beside it.'],
    ['FILE.csv of --from', 'Read.'],
  ],
  examples: [
    'routewright new lanternfall --game Lanternfall',
    'routewright new lanternfall --from segments.csv --from techniques.csv',
    'routewright new lanternfall --from techniques.csv --columns "Worth=saves"',
  ],
  kept: 'The files were written all the same.',
};
