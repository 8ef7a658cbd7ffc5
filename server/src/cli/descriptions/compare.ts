import type { Command } from '../terminal/command.ts';
import { readTarget } from '../terminal/optionValues.ts';
import { asOf, json, readFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `compare`. */
export const compareCommand: Command = {
  name: 'compare',
  summary: 'two routes, or one at two git revisions, by segment and technique',
  operands: 'A B',
  completes: ['file'],
  options: [
    {
      name: 'target',
      value: 'TIME',
      number: readTarget,
      help: 'The time to beat, such as 41:30. Left out: the one in the week file, else in the second route, else in the first.',
    },
    {
      name: 'with',
      value: 'TECHNIQUE',
      completes: 'technique',
      repeatable: true,
      help: 'Count this technique in on both sides, besides those in the run. May be repeated.',
    },
    runner,
    asOf,
    json,
  ],
  notes: [
    'A and B are route files, or REVISION:FILE for a route file as git has it at a branch, tag or commit. A revision ' +
      'stands for the route and those it extends; logs and week are those of today. Where only one of two routes has ' +
      'logs, they serve for both.',
    'For a revision, git is started to read what it holds; nothing that the repository configures is run.',
  ],
  exits: {
    fine: 'There is a comparison.',
    wrong: wrongUse,
  },
  files: readFiles,
  examples: [
    'routewright compare lanternfall.route.yaml shortcut.route.yaml',
    'routewright compare HEAD~3:lanternfall.route.yaml lanternfall.route.yaml',
  ],
};
