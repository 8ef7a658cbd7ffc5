import type { Command } from '../terminal/command.ts';
import { readMonths } from '../terminal/optionValues.ts';
import { asOf, filesNote, json, runner } from './shared.ts';

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
    'Exits 0 with an answer, 1 where nothing is logged, 2 on wrong use or input that cannot be read.',
  ],
  examples: ['routewright progress lanternfall.route.yaml', 'routewright progress --months 12 --json'],
};
