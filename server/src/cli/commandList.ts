import { checkCommand } from './descriptions/check.ts';
import { compareCommand } from './descriptions/compare.ts';
import { completionCommand } from './descriptions/completion.ts';
import { newCommand } from './descriptions/new.ts';
import { oddsCommand } from './descriptions/odds.ts';
import { planCommand } from './descriptions/plan.ts';
import { rankCommand } from './descriptions/rank.ts';
import { reviewCommand } from './descriptions/review.ts';
import { serveCommand } from './descriptions/serve.ts';
import { logCommand } from './log/logCommand.ts';
import type { Request } from './terminal/arguments.ts';
import { cliError, type CommandResult } from './terminal/cliError.ts';
import type { Command } from './terminal/command.ts';
import { exitCodes, type Io } from './terminal/io.ts';

/** Starts the language server over standard input and output. */
export type ServeStdio = () => Promise<void>;

/** A description and what runs it. */
export interface RunnableCommand extends Command {
  readonly run: (request: Request, io: Io, serve: ServeStdio) => Promise<CommandResult>;
}

/**
 * Every command, in the order of the help. The code of each is loaded when it runs, so that logging an attempt does not
 * wait for the rest.
 */
export const commands: readonly RunnableCommand[] = [
  { ...checkCommand, run: async (request, io) => (await import('./commands/check.ts')).check(request, io) },
  { ...rankCommand, run: async (request, io) => (await import('./commands/rank.ts')).rank(request, io) },
  { ...planCommand, run: async (request, io) => (await import('./commands/plan.ts')).plan(request, io) },
  { ...oddsCommand, run: async (request, io) => (await import('./commands/odds.ts')).odds(request, io) },
  {
    ...reviewCommand,
    run: async (request, io) => (await import('./commands/review.ts')).review(request, io),
  },
  {
    ...compareCommand,
    run: async (request, io) => (await import('./commands/compare.ts')).compare(request, io),
  },
  { ...logCommand, run: async (request, io) => (await import('./log/log.ts')).log(request, io) },
  { ...newCommand, run: async (request, io) => (await import('./commands/new.ts')).createRoute(request, io) },
  {
    ...completionCommand,
    run: async (request, io) => (await import('./commands/completion.ts')).completion(request, io, commands),
  },
  { ...serveCommand, run: serveOverStdio },
];

async function serveOverStdio(
  { switches, paths }: Request,
  _io: Io,
  serve: ServeStdio,
): Promise<CommandResult> {
  if (!switches.has('stdio') || paths.length > 0)
    return cliError('The server speaks over standard input and output only: routewright serve --stdio');
  await serve();
  return exitCodes.fine;
}
