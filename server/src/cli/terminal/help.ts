import { wrap } from '../../text/wrap.ts';
import { commands, type Command, type Option } from './commandList.ts';

const width = 88;

const everywhere: readonly Option[] = [{ name: 'help', help: 'Print this.' }];

/** The overview: `routewright --help`. */
export function overview(): string {
  return [
    'Usage: routewright COMMAND [FILE|FOLDER ...] [options]',
    '',
    'Speedrun routes as code: checks route files, and works out from logged practice which technique to learn next.',
    '',
    'Commands',
    ...columns(commands.map(({ name, summary }) => [name, summary])),
    '',
    'Options',
    ...columns([
      ['--help', 'Print this, or after a command what it takes.'],
      ['--version', 'Print the version.'],
    ]),
    '',
    'Example: routewright rank lanternfall.route.yaml',
    '',
  ].join('\n');
}

/** What one command takes: `routewright COMMAND --help`. */
export function commandHelp({ name, summary, operands, options, notes, examples }: Command): string {
  const optional = options.some((option) => !operands.includes(`--${option.name}`));
  return [
    `Usage: routewright ${name} ${operands}${optional ? ' [options]' : ''}`,
    '',
    ...wrap(`Answers: ${summary}.`, width),
    '',
    'Options',
    ...columns([...options, ...everywhere].map((option) => [spelled(option), option.help])),
    '',
    ...notes.flatMap((note) => [...wrap(note, width), '']),
    examples.length === 1 ? 'Example' : 'Examples',
    ...examples.map((example) => `  ${example}`),
    '',
  ].join('\n');
}

function spelled({ name, value }: Option): string {
  return value === undefined ? `--${name}` : `--${name} ${value}`;
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const left = rows.reduce((most, [first]) => Math.max(most, first.length), 0);
  return rows.flatMap(([first, second]) =>
    wrap(second, width - left - 4).map(
      (line, index) => `  ${(index === 0 ? first : '').padEnd(left)}  ${line}`,
    ),
  );
}
