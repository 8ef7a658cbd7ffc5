import { wrapText } from '../../text/wrap.ts';
import type { Command } from './command.ts';
import {
  about,
  environmentRows,
  exitNotes,
  type HelpRows,
  type HelpSection,
  helpUses,
  ownOptions,
  sectionsOf,
  usageOf,
} from './helpPage.ts';

/**
 * The manual page of the whole command line in the macros of man(7): `routewright help --man`. Source of the macros:
 * man(7) of the Linux manual pages and of mandoc, both of which must format it without a complaint.
 *
 * @param version of the program, which stands at the foot of each page
 */
export function manPage(commands: readonly Command[], version: string): string {
  return [
    // The third argument is a date; a text made from the sources alone has none.
    `.TH ROUTEWRIGHT 1 "" ${quoted(`routewright ${version}`)}`,
    ...section('Name'),
    'routewright \\- speedrun routes as code',
    ...section('Synopsis'),
    `.B ${plain('routewright')}`,
    plain('COMMAND [FILE|FOLDER ...] [options]'),
    ...section('Description'),
    ...prosed(about),
    ...section('Options'),
    ...rowsOf(ownOptions),
    ...rowsOf(helpUses),
    ...section('Commands'),
    ...commands.flatMap(commandPart),
    ...section('Exit status'),
    ...prosed('0 where a command did what was asked, and 1 or 2 as its part above says.'),
    ...exitNotes.flatMap((note) => ['.PP', ...prosed(note)]),
    ...section('Environment'),
    ...rowsOf(environmentRows),
    '',
  ].join('\n');
}

function commandPart(command: Command): string[] {
  return [
    `.SS ${quoted(command.name)}`,
    `.B ${plain(usageOf(command))}`,
    '.PP',
    ...prosed(`Answers: ${command.summary}.`),
    ...sectionsOf(command).flatMap(partOf),
  ];
}

function partOf({ title, rows, lines, prose }: HelpSection): string[] {
  if (prose) return prose.flatMap((text) => ['.PP', ...prosed(text)]);
  const heading = ['.PP', `.I ${plain(title)}`];
  if (rows) return [...heading, ...rowsOf(rows)];
  return [...heading, '.PP', '.nf', '.RS', ...(lines ?? []).map(plain), '.RE', '.fi'];
}

function section(title: string): string[] {
  return [`.SH ${title.toUpperCase()}`];
}

function rowsOf(rows: HelpRows): string[] {
  return rows.flatMap(([name, said]) => ['.TP', `.B ${plain(name)}`, ...prosed(said)]);
}

/** Sentences, in lines that are short in the source, too. */
function prosed(text: string): string[] {
  return wrapText(text, 72).map(plain);
}

/**
 * A text as one line of a page: no character of it is an instruction, a hyphen can be copied as one, and what is not
 * ASCII is written by its number, so that no encoding is needed.
 */
function plain(text: string): string {
  const letters = text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(
      /[^ -~]/gu,
      (sign) => `\\[u${sign.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`,
    );
  return letters.replace(/^[.']/, '\\&$&').replaceAll('"', '\\(dq');
}

/** The same as one argument of a macro. */
function quoted(text: string): string {
  return `"${plain(text)}"`;
}
