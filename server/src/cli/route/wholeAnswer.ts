import { answersFolder, findAnswer, keepAnswer } from '../../disk/answerCache.ts';
import { showTheSame } from '../project/looks.ts';
import type { Request } from '../terminal/arguments.ts';
import type { CommandResult } from '../terminal/cliError.ts';
import { exitCodes, type Io, type Look, printAgain, recordPrinted, screenData } from '../terminal/io.ts';

type Run = (request: Request, io: Io) => Promise<CommandResult>;

/** A printed answer, and all that it was made from. */
interface WholeAnswer {
  readonly looks: readonly Look[];
  readonly out: string;
  readonly code: number;
}

/** With more looks than these, looking again is no quicker than answering. */
const mostLooks = 1_000;

/**
 * Runs a command about a route, or prints again what an earlier process printed, where the arguments, the screen and
 * everything that this process looked at are the same. Then neither the command's code is loaded nor a file parsed.
 *
 * An answer with a sentence on stderr (an error in the files, entries that wait) is not kept: it is made anew, with what
 * `remembered` keeps.
 */
export async function wholeAnswer(
  request: Request,
  io: Io,
  load: () => Promise<Run>,
): Promise<CommandResult> {
  const { build, env } = io;
  if (build === undefined) return (await load())(request, io);
  const folder = answersFolder(env, process.platform);
  const question = ['whole', questionOf(request), io.cwd, screenData(io)];
  const before = findAnswer<WholeAnswer>(folder, build, question);
  if (before !== undefined && (await showTheSame(before.looks, io))) {
    printAgain(io, before.out);
    return before.code;
  }
  const run = await load();
  const looks: Look[] = [];
  const { io: recorded, printed } = recordPrinted({ ...io, looked: (look) => void looks.push(look) });
  const code = await run(request, recorded);
  if (typeof code === 'number' && code !== exitCodes.wrong && !printed.noticed && looks.length <= mostLooks)
    keepAnswer(folder, build, question, { looks, out: printed.out, code } satisfies WholeAnswer);
  return code;
}

/** A request as plain data. */
function questionOf({ command, paths, switches, values, numbers, lists }: Request): readonly unknown[] {
  return [command.name, paths, switches, values, numbers, lists];
}
