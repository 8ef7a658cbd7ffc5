import type { Command } from '../terminal/command.ts';
import { asOf, filesNote, json, readFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `review`. */
export const reviewCommand: Command = {
  name: 'review',
  summary: 'what the last week of practice and runs says',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [runner, asOf, json],
  notes: [filesNote, 'The last week is the seven days before the morning that is answered for.'],
  exits: {
    fine: 'There is a review.',
    findings: 'Nothing is logged.',
    wrong: wrongUse,
  },
  files: readFiles,
  examples: ['routewright review lanternfall.route.yaml', 'routewright review --as-of 2026-11-09 --json'],
};
