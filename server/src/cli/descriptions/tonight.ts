import type { Command } from '../terminal/command.ts';
import { asOf, filesNote, json, longDaysNote, readAndKeptFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `tonight`. */
export const tonightCommand: Command = {
  name: 'tonight',
  summary: 'what to practise now, what changed, what to leave out of runs',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [runner, asOf, json],
  notes: [
    filesNote,
    'Says in a few lines what to practise and in which order, for how long, and where its quick repeat starts; why; ' +
      'which standings changed since the last day with entries; which techniques cost time in runs today; and which ' +
      'minutes stay unused. What was logged today already counts: the rest of the day is planned.',
    longDaysNote,
  ],
  exits: {
    fine: 'There is something to practise.',
    findings: 'There is nothing to practise today.',
    wrong: wrongUse,
  },
  files: readAndKeptFiles,
  examples: ['routewright tonight lanternfall.route.yaml', 'routewright tonight my-route --json'],
};
