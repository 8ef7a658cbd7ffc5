import type { Command } from '../terminal/command.ts';
import { asOf, filesNote, json, runner } from './shared.ts';

/** The operands, options and help of `check`. */
export const checkCommand: Command = {
  name: 'check',
  summary: 'what is wrong, where, and how to mend it',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [
    { name: 'fix', help: 'Apply the edits that mend what was found, in the files and folders given only.' },
    { name: 'sarif', help: 'Print a SARIF 2.1.0 log and nothing else.' },
    {
      name: 'fail-on',
      value: 'SEVERITY',
      oneOf: ['error', 'warning', 'hint'],
      help: 'Exit 1 from this severity on: error (default), warning or hint.',
    },
    runner,
    { ...asOf, help: `${asOf.help} Later entries are findings.` },
    json,
  ],
  notes: [
    filesNote,
    'Exits 0 where nothing was found, 1 with findings, 2 on wrong use or input that cannot be read.',
  ],
  examples: ['routewright check', 'routewright check lanternfall.route.yaml --fix --fail-on warning'],
};
