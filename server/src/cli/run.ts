import { parseArguments, type Request } from './terminal/arguments.ts';
import { commandHelp, overview } from './terminal/help.ts';
import { exitCodes, printNotice, type Io } from './terminal/io.ts';
import { version } from './terminal/version.ts';

/** Starts the language server over standard input and output. */
export type ServeStdio = () => Promise<void>;

/**
 * Does what a command line asks for.
 *
 * @param argv what stands behind `routewright`
 * @returns the exit code: 0 fine, 1 findings or nothing to say, 2 wrong use or unreadable input
 */
export async function runCommandLine(argv: readonly string[], io: Io, serve: ServeStdio): Promise<number> {
  const asked = parseArguments(argv);
  switch (asked.kind) {
    case 'help':
      io.stdout.write(asked.of ? commandHelp(asked.of) : overview());
      return exitCodes.fine;
    case 'version':
      io.stdout.write(`${version}\n`);
      return exitCodes.fine;
    case 'wrong':
      printNotice(io, `${asked.message}\nHelp: routewright --help`);
      return exitCodes.wrong;
    case 'command':
      return runCommand(asked.request, io, serve);
  }
}

/** Each command is loaded when it is asked for, so that logging an attempt does not wait for the rest. */
async function runCommand(request: Request, io: Io, serve: ServeStdio): Promise<number> {
  switch (request.command.name) {
    case 'check':
      return (await import('./commands/check.ts')).check(request, io);
    case 'rank':
      return (await import('./commands/rank.ts')).rank(request, io);
    case 'plan':
      return (await import('./commands/plan.ts')).plan(request, io);
    case 'odds':
      return (await import('./commands/odds.ts')).odds(request, io);
    case 'review':
      return (await import('./commands/review.ts')).review(request, io);
    case 'compare':
      return (await import('./commands/compare.ts')).compare(request, io);
    case 'new':
      return (await import('./commands/new.ts')).createRoute(request, io);
    case 'log':
      return (await import('./log/log.ts')).log(request, io);
    default:
      if (!request.switches.has('stdio') || request.paths.length > 0) {
        printNotice(io, 'The server speaks over standard input and output only: routewright serve --stdio');
        return exitCodes.wrong;
      }
      await serve();
      return exitCodes.fine;
  }
}
