import type * as WholeAnswer from './route/wholeAnswer.ts';
import type { Request } from './terminal/arguments.ts';
import { cliError, type CommandResult } from './terminal/cliError.ts';
import type { Command } from './terminal/command.ts';
import { exitCodes, type Io } from './terminal/io.ts';

/** Starts the language server over standard input and output. */
export type ServeStdio = () => Promise<void>;

/** What only one command needs of the program. */
export interface Program {
  readonly serve: ServeStdio;
  /** The descriptions of all commands. */
  readonly allCommands: () => Promise<readonly Command[]>;
}

/** A description and what runs it. */
export interface RunnableCommand extends Command {
  readonly run: (request: Request, io: Io, program: Program) => Promise<CommandResult>;
}

/**
 * Every command by its name, in the order of the help. Its description is loaded when its name is on the command line,
 * and its code when it runs, so that logging an attempt does not wait for the rest.
 */
export const commandLoaders: Readonly<Record<string, () => Promise<RunnableCommand>>> = {
  check: async () => ({
    ...(await import('./descriptions/check.ts')).checkCommand,
    run: async (request, io) => {
      const load = async () => (await import('./commands/check.ts')).check;
      // Files are written.
      return request.switches.has('fix') ? (await load())(request, io) : wholeAnswer(request, io, load);
    },
  }),
  tonight: async () => ({
    ...(await import('./descriptions/tonight.ts')).tonightCommand,
    run: (request, io) =>
      wholeAnswer(request, io, async () => (await import('./commands/tonight.ts')).tonight),
  }),
  rank: async () => ({
    ...(await import('./descriptions/rank.ts')).rankCommand,
    run: (request, io) => wholeAnswer(request, io, async () => (await import('./commands/rank.ts')).rank),
  }),
  plan: async () => ({
    ...(await import('./descriptions/plan.ts')).planCommand,
    run: async (request, io) => {
      const load = async () => (await import('./commands/plan.ts')).plan;
      // A calendar file is written each time.
      return request.values.has('ics') ? (await load())(request, io) : wholeAnswer(request, io, load);
    },
  }),
  odds: async () => ({
    ...(await import('./descriptions/odds.ts')).oddsCommand,
    run: (request, io) => wholeAnswer(request, io, async () => (await import('./commands/odds.ts')).odds),
  }),
  review: async () => ({
    ...(await import('./descriptions/review.ts')).reviewCommand,
    run: (request, io) => wholeAnswer(request, io, async () => (await import('./commands/review.ts')).review),
  }),
  progress: async () => ({
    ...(await import('./descriptions/progress.ts')).progressCommand,
    run: (request, io) =>
      wholeAnswer(request, io, async () => (await import('./commands/progress.ts')).progress),
  }),
  compare: async () => ({
    ...(await import('./descriptions/compare.ts')).compareCommand,
    run: async (request, io) => (await import('./commands/compare.ts')).compare(request, io),
  }),
  pool: async () => ({
    ...(await import('./descriptions/pool.ts')).poolCommand,
    run: async (request, io) => (await import('./commands/pool.ts')).pool(request, io),
  }),
  log: async () => ({
    ...(await import('./log/logCommand.ts')).logCommand,
    run: async (request, io) => (await import('./log/log.ts')).log(request, io),
  }),
  export: async () => ({
    ...(await import('./descriptions/export.ts')).exportCommand,
    run: async (request, io) => (await import('./commands/export.ts')).exportAnswer(request, io),
  }),
  new: async () => ({
    ...(await import('./descriptions/new.ts')).newCommand,
    run: async (request, io) => (await import('./commands/new.ts')).createRoute(request, io),
  }),
  explain: async () => ({
    ...(await import('./descriptions/explain.ts')).explainCommand,
    run: async (request, io) => (await import('./commands/explain.ts')).explainKey(request, io),
  }),
  completion: async () => ({
    ...(await import('./descriptions/completion.ts')).completionCommand,
    run: async (request, io, { allCommands }) =>
      (await import('./commands/completion.ts')).completion(request, io, await allCommands()),
  }),
  serve: async () => ({
    ...(await import('./descriptions/serve.ts')).serveCommand,
    run: serveOverStdio,
  }),
};

/** Loaded for the commands that need it: logging an attempt does not. */
async function wholeAnswer(...args: Parameters<typeof WholeAnswer.wholeAnswer>): Promise<CommandResult> {
  return (await import('./route/wholeAnswer.ts')).wholeAnswer(...args);
}

async function serveOverStdio(
  { switches, paths }: Request,
  _io: Io,
  { serve }: Program,
): Promise<CommandResult> {
  if (!switches.has('stdio') || paths.length > 0)
    return cliError('The server speaks over standard input and output only: routewright serve --stdio');
  await serve();
  return exitCodes.fine;
}
