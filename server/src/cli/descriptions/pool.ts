import { leastRunners } from '../../model/pool/addUp.ts';
import type { Command } from '../terminal/command.ts';
import { readMinRunners, readThreads } from '../terminal/optionValues.ts';
import { asOf, json } from './shared.ts';

/** The operands, options and help of `pool`. */
export const poolCommand: Command = {
  name: 'pool',
  summary: "what several runners' practice says together, without their logs",
  operands: '[FOLDER|FILE.pool.yaml ...]',
  completes: ['folder', 'file'],
  options: [
    {
      name: 'write',
      help: 'Write NAME.pool.yaml beside the route, as a new file or in the place of an earlier one.',
    },
    {
      name: 'output',
      value: 'FILE.pool.yaml',
      completes: 'file',
      help: 'Write this file instead.',
    },
    {
      name: 'route',
      value: 'FILE.route.yaml',
      completes: 'file',
      help: 'The route, where the folders hold several or copies that differ.',
    },
    {
      name: 'min-runners',
      value: 'N',
      number: readMinRunners,
      help: `Tell only of techniques that so many runners practised, ${leastRunners} or more. Left out: ${leastRunners}.`,
    },
    {
      name: 'anyway',
      help: `Write although fewer than ${leastRunners} runners make the difference to an earlier pool: who has both can then work out their numbers.`,
    },
    asOf,
    {
      name: 'threads',
      value: 'N',
      number: readThreads,
      help: 'How many runners to count at the same time. Left out: as many as there are cores, 8 at most.',
    },
    json,
  ],
  notes: [
    'Makes a pool of logs, and puts pools together.',
    'A folder stands for the logs of all runners below it: each who is named by runner: in a log, or where nobody is, the one ' +
      'whose they are. Without anything given, the current folder is meant. Everything must be of one route.',
    'Each runner counts once, also where there are copies of their logs or where they are in a pool that is given. Two pools that share ' +
      'some of their runners but not all cannot be put together: make one from the logs.',
    `The file holds no names, no days of practice and no counts of one person. It tells nothing of a technique that fewer than ${leastRunners} ` +
      'runners practised, and a runner with fewer than 5 entries of practice is not counted.',
  ],
  exits: {
    fine: 'There is something to tell.',
    findings: 'There is nothing to tell, or nothing is used of a pool that was given.',
    wrong:
      'Wrong use, input that cannot be read, pools that cannot be put together, or a file that is not written.',
  },
  files: [
    ['NAME.route.yaml', 'The route, with those that it extends.'],
    ['NAME.practice.yaml, NAME.runs.yaml', 'The logs of each runner, read one runner at a time.'],
    ['NAME.week.yaml', 'When the day of a runner begins, and where techniques stand.'],
    ['NAME.pool.yaml', 'Read where it is given; with --write or --output written.'],
  ],
  examples: [
    'routewright pool lanternfall --write',
    'routewright pool runners/ada runners/bo runners/cy',
    'routewright pool ours.pool.yaml theirs.pool.yaml --output all.pool.yaml',
  ],
};
