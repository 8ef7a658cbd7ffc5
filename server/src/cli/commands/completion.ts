import { bashScript } from '../completion/bash.ts';
import { fishScript } from '../completion/fish.ts';
import { powerShellScript } from '../completion/powerShell.ts';
import { zshScript } from '../completion/zsh.ts';
import { shells, type Shell } from '../descriptions/completion.ts';
import { closestWord } from '../../text/closestWord.ts';
import { formatList } from '../../text/format.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CommandResult } from '../terminal/cliError.ts';
import type { Command } from '../terminal/command.ts';
import { exitCodes, type Io, printLines, printText } from '../terminal/io.ts';

const scripts: Readonly<Record<Shell, (commands: readonly Command[]) => string>> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
  powershell: powerShellScript,
};

/** `routewright completion SHELL`: a script for a shell; or the ids, which that script requests. */
export async function completion(
  { paths, values }: Request,
  io: Io,
  commands: readonly Command[],
): Promise<CommandResult> {
  const kind = values.get('ids');
  if (kind === 'key') {
    printLines(io, (await import('../../files/schema/keyMeanings.ts')).allKeys());
    return exitCodes.fine;
  }
  if (kind !== undefined) {
    const { techniques, segments } = await (await import('../project/routeIds.ts')).routeIds(io.cwd);
    printLines(io, kind === 'segment' ? segments : techniques);
    return exitCodes.fine;
  }
  const [written, ...more] = paths;
  const names = formatList(shells, 'or');
  if (written === undefined || more.length > 0)
    return cliError(
      `Say for which shell: routewright completion ${shells[0]}, for example. It can be ${names}.`,
    );
  const shell = shells.find((name) => name === written.toLowerCase());
  if (shell === undefined) {
    const suggestion = closestWord(written, shells);
    const hint = suggestion ? ` Did you mean ${suggestion}?` : '';
    return cliError(`A completion script can be had for ${names}, not for ${written}.${hint}`);
  }
  printText(io, scripts[shell](commands));
  return exitCodes.fine;
}
