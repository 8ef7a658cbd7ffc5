import type { Command } from '../terminal/command.ts';
import { json } from './shared.ts';

/** The operands, options and help of `new`. */
export const newCommand: Command = {
  name: 'new',
  summary: 'a starter route with logs and a week, to be filled in',
  operands: '[FOLDER]',
  completes: ['folder'],
  options: [
    { name: 'game', value: 'NAME', help: 'The game. Left out: My game.' },
    { name: 'category', value: 'NAME', help: 'The category. Left out: any%.' },
    json,
  ],
  notes: ['Makes the folder where it does not exist. A file that exists is never overwritten.'],
  examples: ['routewright new lanternfall --game Lanternfall'],
  kept: 'The files were written all the same.',
};
