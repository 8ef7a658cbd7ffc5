import { wrapText } from '../../text/wrap.ts';
import { asciiText } from './layout/asciiText.ts';
import type { Screen } from './layout/screen.ts';
import { commonOptions, type Command, type Option } from './command.ts';

/** Help is not made wider, on however wide a screen. */
const widest = 88;
const fewestBeside = 30;

/** The overview: `routewright --help`. */
export function overview(commands: readonly Command[], screen: Screen): string {
  const width = Math.min(widest, screen.columns);
  const said = 'checks route files, and works out from logged practice which technique to learn next.';
  return [
    ...wrapText('Usage: routewright COMMAND [FILE|FOLDER ...] [options]', width, '   '),
    '',
    ...wrapText(`Speedrun routes as code: ${said}`, width),
    '',
    'Commands',
    ...columns(
      commands.map(({ name, summary }) => [name, summary]),
      width,
    ),
    '',
    'Options',
    ...columns(
      [
        ['--help', 'Print this, or after a command what it takes.'],
        ['--version', 'Print the version.'],
      ],
      width,
    ),
    '',
    ...wrapText('Example: routewright rank lanternfall.route.yaml', width, '   '),
    '',
  ].join('\n');
}

/** The help of one command: `routewright COMMAND --help`. */
export function commandHelp(command: Command, screen: Screen): string {
  const { name, summary, operands, options, notes, examples } = command;
  const width = Math.min(widest, screen.columns);
  const optional = options.some((option) => !operands.includes(`--${option.name}`));
  const lines = [
    ...wrapText(`Usage: routewright ${name} ${operands}${optional ? ' [options]' : ''}`, width, '   '),
    '',
    ...wrapText(`Answers: ${summary}.`, width),
    '',
    'Options',
    ...columns(
      [...options, ...commonOptions].map((option) => [optionUsage(option), option.help]),
      width,
    ),
    '',
    ...notes.flatMap((note) => [...wrapText(note, width), '']),
    examples.length === 1 ? 'Example' : 'Examples',
    ...examples.flatMap((example) => wrapText(`  ${example}`, width, '     ')),
    '',
  ];
  return (screen.unicode ? lines : lines.map(asciiText)).join('\n');
}

function optionUsage({ name, value }: Option): string {
  return value === undefined ? `--${name}` : `--${name} ${value}`;
}

/** Names with what is said of them beside them; below them where there is little room beside. */
function columns(rows: readonly (readonly [string, string])[], width: number): string[] {
  const left = rows.reduce((most, [first]) => Math.max(most, first.length), 0);
  if (width - left - 4 < fewestBeside)
    return rows.flatMap(([first, second]) => [
      ...wrapText(`  ${first}`, width, '    '),
      ...wrapText(`      ${second}`, width, '      '),
    ]);
  return rows.flatMap(([first, second]) =>
    wrapText(second, width - left - 4).map(
      (line, index) => `  ${(index === 0 ? first : '').padEnd(left)}  ${line}`,
    ),
  );
}
