import { wrapText } from '../../text/wrap.ts';
import type { Command } from './command.ts';
import {
  about,
  exitNotes,
  exitRows,
  type HelpRows,
  type HelpSection,
  helpUses,
  ownOptions,
  sectionsOf,
  usageOf,
} from './helpPage.ts';
import { asciiText } from './layout/asciiText.ts';
import type { Screen } from './layout/screen.ts';

/** Help is not made wider, on however wide a screen. */
const widest = 88;
const fewestBeside = 30;

/** The overview: `routewright --help`. */
export function overview(commands: readonly Command[], screen: Screen): string {
  const width = widthOf(screen);
  return page(screen, [
    ...wrapText('Usage: routewright COMMAND [FILE|FOLDER ...] [options]', width, '   '),
    '',
    ...wrapText(about, width),
    '',
    'Commands',
    ...columns(
      commands.map(({ name, summary }) => [name, summary]),
      width,
    ),
    '',
    'Help',
    ...columns(helpUses, width),
    '',
    'Options',
    ...columns(ownOptions, width),
    '',
    ...wrapText('Example: routewright rank lanternfall.route.yaml', width, '   '),
    '',
  ]);
}

/** The page of one command: `routewright help COMMAND`, and `routewright COMMAND --help`. */
export function commandHelp(command: Command, screen: Screen): string {
  const width = widthOf(screen);
  return page(screen, [
    ...wrapText(`Usage: ${usageOf(command)}`, width, '   '),
    '',
    ...wrapText(`Answers: ${command.summary}.`, width),
    '',
    ...sectionsOf(command).flatMap((section) => sectionLines(section, width)),
  ]);
}

/** The exit codes of every command: `routewright help exit-codes`. */
export function exitCodesHelp(commands: readonly Command[], screen: Screen): string {
  const width = widthOf(screen);
  return page(screen, [
    ...commands.flatMap((command) => sectionLines({ title: command.name, rows: exitRows(command) }, width)),
    ...sectionLines({ title: 'Notes', prose: exitNotes }, width),
  ]);
}

function widthOf({ columns }: Screen): number {
  return Math.min(widest, columns);
}

function page({ unicode }: Screen, lines: readonly string[]): string {
  return (unicode ? lines : lines.map(asciiText)).join('\n');
}

/** A section with an empty line after it. Notes are without their title: they explain what stands above them. */
function sectionLines({ title, rows, lines, prose }: HelpSection, width: number): string[] {
  if (prose) return prose.flatMap((text) => [...wrapText(text, width), '']);
  const body = rows
    ? columns(rows, width)
    : (lines ?? []).flatMap((line) => wrapText(`  ${line}`, width, '     '));
  return [title, ...body, ''];
}

/** Names with what is said of them beside them; below them where there is little room beside. */
function columns(rows: HelpRows, width: number): string[] {
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
