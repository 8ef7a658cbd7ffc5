import type { Command } from '../terminal/command.ts';
import { readHours, readTarget } from '../terminal/optionValues.ts';
import { asOf, filesNote, json, readFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `odds`. */
export const oddsCommand: Command = {
  name: 'odds',
  summary: 'what a run comes to, where to reset, and whether to practise first',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [
    {
      name: 'target',
      value: 'TIME',
      number: readTarget,
      help: 'The time to beat, such as 41:30. Left out: the one in the week file, else in the route.',
    },
    {
      name: 'hours',
      value: 'HOURS',
      number: readHours,
      help:
        'Hours left for practice and runs together; the answer says how many to practise first. Left out: those that the ' +
        'week file gives in the next four weeks.',
    },
    {
      name: 'with',
      value: 'TECHNIQUE',
      completes: 'technique',
      repeatable: true,
      help: 'Count this technique in, besides those in the run. May be repeated.',
    },
    runner,
    asOf,
    json,
  ],
  notes: [
    filesNote,
    'Counted in is what the week file or the last runs say is in the run; of these, each is tried where that lowers ' +
      'the expected time. Landing rates are those that the logs suggest, and what is uncertain about them is averaged over.',
  ],
  exits: {
    fine: 'There are odds.',
    wrong: wrongUse,
  },
  files: readFiles,
  examples: [
    'routewright odds lanternfall.route.yaml',
    'routewright odds --target 41:20 --with lamp-clip,tide-skip',
    'routewright odds --hours 20',
  ],
};
