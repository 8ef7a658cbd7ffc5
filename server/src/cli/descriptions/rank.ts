import { objectives } from '../../model/rank/objectives/objectives.ts';
import type { Command } from '../terminal/command.ts';
import { cycleProblem, readTarget } from '../terminal/optionValues.ts';
import { asOf, filesNote, json, readAndKeptFiles, runner, wrongUse } from './shared.ts';

const objectiveHelp = objectives.map(
  ({ id, meaning }, index) => `${id}${index === 0 ? ' (default)' : ''}, ${meaning}`,
);
const objectivesWithTarget = objectives.flatMap(({ id, needs }) => (needs === 'target' ? id : []));

/** The operands, options and help of `rank`. */
export const rankCommand: Command = {
  name: 'rank',
  summary: 'which technique to learn next, by seconds gained per hour of practice',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [
    { name: 'all', help: 'Rank the techniques that are in the run already, too.' },
    runner,
    {
      name: 'objective',
      value: 'WHAT',
      oneOf: objectives.map(({ id }) => id),
      help: `What practice is to serve: ${objectiveHelp.slice(0, -1).join('; ')}, or ${objectiveHelp.at(-1)}.`,
    },
    {
      name: 'target',
      value: 'TIME',
      number: readTarget,
      help: `The time to beat with --objective ${objectivesWithTarget.join(' or ')}, such as 41:30. Default: the week file, then the route.`,
    },
    {
      name: 'explain',
      value: 'TECHNIQUE',
      completes: 'technique',
      help: 'Where it stands and what practice of it is expected to bring, in plain lines, in place of the table.',
    },
    {
      name: 'numbers',
      help: 'With --explain: every number of its row, too, with the formula it comes from.',
    },
    {
      name: 'cycle',
      value: 'TECHNIQUE=SECONDS',
      problem: cycleProblem,
      completes: 'technique',
      separator: '=',
      repeatable: true,
      help: 'What its rank becomes if an attempt and the way back took so many seconds in all. May be repeated.',
    },
    asOf,
    json,
  ],
  notes: [
    filesNote,
    'The numbers come from a model of learning and are ranges, not promises. It takes it that a technique is tried ' +
      'in runs only where that pays, and that a night adds 20 % to what a day of practice gave: common practice, not ' +
      'settled, and yours to change (model: overnight_gain in the week file).',
  ],
  exits: {
    fine: 'There is a ranking.',
    findings: 'There is nothing to rank.',
    wrong: wrongUse,
  },
  files: readAndKeptFiles,
  examples: [
    'routewright rank lanternfall.route.yaml',
    'routewright rank --explain wall-kick',
    'routewright rank --explain wall-kick --numbers',
    'routewright rank --cycle tide-skip=6 --as-of 2026-10-05 --json',
  ],
};
