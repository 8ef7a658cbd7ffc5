import type { Command } from '../terminal/command.ts';
import { asOf, filesNote, json, readFiles, runner } from './shared.ts';

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
  notes: [filesNote],
  exits: {
    fine: 'Nothing was found, or nothing of the severity that --fail-on names.',
    findings: 'There are findings of that severity or a higher one.',
    wrong: 'Wrong use, input that cannot be read, or with --fix a file that cannot be written.',
  },
  files: [...readFiles, ['the same, with --fix', 'Written, where an edit mends what was found.']],
  examples: ['routewright check', 'routewright check lanternfall.route.yaml --fix --fail-on warning'],
};
