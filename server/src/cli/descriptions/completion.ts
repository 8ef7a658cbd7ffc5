import type { Command } from '../terminal/command.ts';

/** The shells for which `completion` writes a script. */
export const shells = ['bash', 'zsh', 'fish', 'powershell'] as const;
export type Shell = (typeof shells)[number];

/** The operands, options and help of `completion`. */
export const completionCommand: Command = {
  name: 'completion',
  summary: 'a script that completes commands, options, values and ids in a shell',
  operands: shells.join('|'),
  operandOneOf: shells,
  completes: [],
  options: [
    {
      name: 'ids',
      value: 'KIND',
      oneOf: ['technique', 'segment', 'key'],
      help: 'Print the ids of the routes in the current folder, or the keys of files, in place of a script: what the scripts call for a word that is one.',
    },
  ],
  notes: [
    'The script goes to standard output. bash: add source <(routewright completion bash) to ~/.bashrc. zsh: write it to a ' +
      'file _routewright in a folder of fpath, before compinit. fish: write it to ~/.config/fish/completions/routewright.fish. ' +
      'PowerShell: add routewright completion powershell | Out-String | Invoke-Expression to $PROFILE.',
    'The scripts for bash, zsh and fish are tested in those shells; the one for PowerShell follows the documentation of ' +
      'Register-ArgumentCompleter and was not run.',
  ],
  exits: {
    fine: 'A script or ids were printed.',
    wrong: 'Wrong use.',
  },
  examples: [
    'routewright completion bash',
    'routewright completion fish > ~/.config/fish/completions/routewright.fish',
  ],
};
