import type { Command } from '../terminal/command.ts';

/** The operands, options and help of `serve`. */
export const serveCommand: Command = {
  name: 'serve',
  summary: 'the language server, for any editor that speaks the Language Server Protocol',
  operands: '--stdio',
  completes: [],
  options: [
    { name: 'stdio', help: 'Speak over standard input and output (required: there is no other way).' },
  ],
  notes: [],
  exits: {
    fine: 'The editor ended the session in order.',
    findings: 'The connection ended without that.',
    wrong: 'Wrong use.',
  },
  examples: ['routewright serve --stdio'],
};
