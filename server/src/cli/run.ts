import { commandLoaders, type RunnableCommand, type ServeStdio } from './commandLoaders.ts';
import { parseArguments, type Request } from './terminal/arguments.ts';
import { isCliError } from './terminal/cliError.ts';
import type { Command } from './terminal/command.ts';
import { commandHelp, exitCodesHelp, overview } from './terminal/help.ts';
import type { HelpTopic } from './terminal/helpPage.ts';
import { exitCodes, type Io, printNotice, printText, screenOfAnswer } from './terminal/io.ts';
import { colorChoices, type Screen } from './terminal/layout/screen.ts';
import { version } from './terminal/version.ts';

/**
 * Does what a command line asks for.
 *
 * @param argv the arguments after `routewright`
 * @returns the exit code: 0 fine, 1 findings or nothing to answer, 2 wrong use or unreadable input
 */
export async function runCommandLine(argv: readonly string[], place: Io, serve: ServeStdio): Promise<number> {
  const commands = await commandsFor(argv[0]);
  const parsed = parseArguments(argv, commands);
  const io = parsed.kind === 'command' ? { ...place, ...colorOf(parsed.request) } : place;
  switch (parsed.kind) {
    case 'help':
      printText(io, helpOf(parsed.of, commands, screenOfAnswer(io)));
      return exitCodes.fine;
    case 'manual':
      printText(io, (await import('./terminal/manPage.ts')).manPage(commands, version));
      return exitCodes.fine;
    case 'version':
      printText(io, `${version}\n`);
      return exitCodes.fine;
    case 'error':
      printNotice(io, parsed.message);
      printNotice(io, 'Help: routewright --help');
      return parsed.exitCode;
    case 'command': {
      const { request } = parsed;
      const command = commands.find(({ name }) => name === request.command.name)!;
      const result = await command.run(request, io, { serve, allCommands });
      if (!isCliError(result)) return afterAnswer(result, command, io);
      printNotice(io, result.message);
      return result.exitCode;
    }
  }
}

function helpOf(of: Command | HelpTopic | undefined, commands: readonly Command[], screen: Screen): string {
  if (of === undefined) return overview(commands, screen);
  return of === 'exit-codes' ? exitCodesHelp(commands, screen) : commandHelp(of, screen);
}

/** What `--color` says, where it is given. */
function colorOf({ values }: Request): Pick<Io, 'color'> {
  const color = colorChoices.find((choice) => choice === values.get('color'));
  return color === undefined ? {} : { color };
}

/** The exit code once the answer is written, or could not be written: what was done is then said on stderr. */
async function afterAnswer(code: number, { kept }: Command, io: Io): Promise<number> {
  const reason = await io.stdout.lost?.();
  if (reason === undefined) return code;
  printNotice(io, `The answer could not be printed: ${reason}.`);
  if (kept === undefined) return exitCodes.wrong;
  if (code === exitCodes.fine) printNotice(io, kept);
  return code;
}

/** The command that the first word names; every command where it names none, as for help. */
async function commandsFor(word: string | undefined): Promise<readonly RunnableCommand[]> {
  const named = word !== undefined && Object.hasOwn(commandLoaders, word) ? commandLoaders[word] : undefined;
  return named ? [await named()] : allCommands();
}

async function allCommands(): Promise<readonly RunnableCommand[]> {
  return (await import('./commandList.ts')).commands;
}
