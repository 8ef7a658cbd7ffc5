import type { Command } from '../terminal/command.ts';
import { json } from './shared.ts';

/** The operands, options and help of `explain`. */
export const explainCommand: Command = {
  name: 'explain',
  summary: 'what a key of a file means, with its type, unit and an example',
  operands: '[KEY]',
  completes: ['key'],
  options: [json],
  notes: [
    'Without a key, it lists the keys of each kind of file. For a technique, rank --explain TECHNIQUE says where it ' +
      'stands and what practice of it is expected to bring.',
  ],
  exits: {
    fine: 'There is an answer.',
    wrong: 'No file has such a key, or wrong use.',
  },
  examples: ['routewright explain saves', 'routewright explain'],
};
