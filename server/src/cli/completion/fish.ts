import type { Command, Option } from '../terminal/command.ts';
import { helpTopics } from '../terminal/helpPage.ts';
import { optionsOf, ownOptions, shortHelp, takesValue } from './words.ts';

/**
 * The completion script for fish 3.4 and later. Where a line does not contain `-f`, fish itself completes file names.
 *
 * @param commands every command that exists
 */
export function fishScript(commands: readonly Command[]): string {
  const names = commands.map(({ name }) => name);
  return `# Completion of routewright for fish. Written by: routewright completion fish

# Whether the command is the one given; without one, whether none is written yet.
function __routewright_at
    set -l words (commandline -opc)
    test "$words[2]" = "$argv[1]"
end

# Ids of the routes in the current folder: the kind, then what follows an id in a value.
function __routewright_ids
    set -l words (commandline -opc)
    for id in ($words[1] completion --ids $argv[1] 2>/dev/null)
        # In quotes: without them, nothing at all is printed where nothing follows.
        echo "$id$argv[2]"
    end
end

${[
  'complete -c routewright -e',
  ...ownOptions.map(([name, help]) => line('', `-l ${name.slice(2)} -d ${quote(help)}`)),
  ...commands.map(({ name, summary }) => line('', `-f -a ${name} -d ${quote(summary)}`)),
  ...commands.flatMap((command) => [
    ...operandLines(command),
    ...optionsOf(command).map((option) => line(command.name, optionArguments(option))),
  ]),
  line('help', `-f -a ${quote([...names, ...helpTopics].join(' '))}`),
].join('\n')}
`;
}

/** A line of the script that applies after one command or, where the name is empty, before any command is written. */
function line(command: string, rest: string): string {
  return `complete -c routewright -n ${quote(`__routewright_at ${command === '' ? "''" : command}`)} ${rest}`;
}

function optionArguments(option: Option): string {
  const parts = [`-l ${option.name}`];
  if (takesValue(option)) parts.push(valueArguments(option));
  return [...parts, `-d ${quote(shortHelp(option))}`].join(' ');
}

function valueArguments({ oneOf, completes, separator }: Option): string {
  if (oneOf) return `-x -a ${quote(oneOf.join(' '))}`;
  switch (completes) {
    case 'technique':
    case 'segment':
    case 'key':
      return `-x -a ${quote(`(__routewright_ids ${completes}${separator === undefined ? '' : ` ${separator}`})`)}`;
    case 'folder':
      return `-x -a ${quote(folders)}`;
    case 'file':
      return '-r -F';
    case undefined:
      return '-x';
  }
}

const folders = '(__fish_complete_directories (commandline -ct))';

function operandLines({ name, completes, operandOneOf }: Command): string[] {
  if (operandOneOf)
    return [line(name, `${completes.includes('file') ? '' : '-f '}-a ${quote(operandOneOf.join(' '))}`)];
  if (completes.includes('technique')) return [line(name, `-a ${quote('(__routewright_ids technique)')}`)];
  if (completes.includes('key')) return [line(name, `-f -a ${quote('(__routewright_ids key)')}`)];
  if (completes.includes('file')) return [];
  return [line(name, completes.includes('folder') ? `-f -a ${quote(folders)}` : '-f')];
}

function quote(text: string): string {
  return `'${text.replace(/[\\']/g, '\\$&')}'`;
}
