import { wrapText } from '../../text/wrap.ts';
import { type Command, type Option } from './command.ts';

const width = 88;

const commonOptions: readonly Option[] = [{ name: 'help', help: 'Print this.' }];

/** The overview: `routewright --help`. */
export function overview(commands: readonly Command[]): string {
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

/** The help of one command: `routewright COMMAND --help`. */
export function commandHelp({ name, summary, operands, options, notes, examples }: Command): string {
  const optional = options.some((option) => !operands.includes(`--${option.name}`));
  return [
    `Usage: routewright ${name} ${operands}${optional ? ' [options]' : ''}`,
    '',
    ...wrapText(`Answers: ${summary}.`, width),
    '',
    'Options',
    ...columns([...options, ...commonOptions].map((option) => [optionUsage(option), option.help])),
    '',
    ...notes.flatMap((note) => [...wrapText(note, width), '']),
    examples.length === 1 ? 'Example' : 'Examples',
    ...examples.map((example) => `  ${example}`),
    '',
  ].join('\n');
}

function optionUsage({ name, value }: Option): string {
  return value === undefined ? `--${name}` : `--${name} ${value}`;
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const left = rows.reduce((most, [first]) => Math.max(most, first.length), 0);
  return rows.flatMap(([first, second]) =>
    wrapText(second, width - left - 4).map(
      (line, index) => `  ${(index === 0 ? first : '').padEnd(left)}  ${line}`,
    ),
  );
}
