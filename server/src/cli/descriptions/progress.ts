import type { Command } from '../terminal/command.ts';
import { readMonths } from '../terminal/optionValues.ts';
import { asOf, filesNote, json, readFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `progress`. */
export const progressCommand: Command = {
  name: 'progress',
  summary: 'landing rates, best times and hours of practice over the months',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [
    {
      name: 'months',
      value: 'MONTHS',
      number: readMonths,
      help:
        'How many months to look back, this one included: up to 6 week by week, more by month, quarter or year. ' +
        'Left out: all, but at most 36.',
    },
    runner,
    asOf,
    json,
  ],
  notes: [
    filesNote,
    'All of it is counted from the logs; nothing is estimated but where each technique stands.',
  ],
  exits: {
    fine: 'There is something to show.',
    findings: 'Nothing is logged.',
    wrong: wrongUse,
  },
  files: readFiles,
  examples: ['routewright progress lanternfall.route.yaml', 'routewright progress --months 12 --json'],
};
