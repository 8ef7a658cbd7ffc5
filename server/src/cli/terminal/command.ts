import { colorChoices } from './layout/screen.ts';

/**
 * The kinds of word that a shell can complete: the id of a technique or a segment of the routes in the current folder,
 * a key of the files, a file, a folder.
 */
export type WordKind = 'technique' | 'segment' | 'key' | 'file' | 'folder';

/** An option of a command. */
export interface Option {
  readonly name: string;
  /** The placeholder for its value in the help; an option without it takes no value. */
  readonly value?: string;
  readonly help: string;
  /** The values it may have. */
  readonly oneOf?: readonly string[];
  /** Gives a sentence about a wrong value, or undefined. Default: every value that is not empty is right. */
  readonly problem?: (value: string) => string | undefined;
  /** Reads its value as a number, or gives a sentence about a wrong value. `Request.numbers` then holds the number. */
  readonly number?: (value: string) => number | string;
  /** May be given several times, or with several values separated by commas. */
  readonly repeatable?: boolean;
  /** Its value is a whole number that may be left out. */
  readonly optionalNumber?: boolean;
  /** The kind of word at the beginning of its value, for completion. */
  readonly completes?: WordKind;
  /** The character that follows the id in its value, such as `=`. */
  readonly separator?: string;
}

/** A file, or some of a kind, and what a command does with it. */
export type FileUse = readonly [name: string, said: string];

/** What each exit code of a command says, in whole sentences; a code without one is never given. */
export type Exits = Readonly<Record<'fine' | 'wrong', string>> & { readonly findings?: string };

/** The options that every command has. */
export const commonOptions: readonly Option[] = [
  {
    name: 'color',
    value: colorChoices.join('|'),
    oneOf: colorChoices,
    help: 'Whether to write in weight and colour. Left out: auto, on a terminal. NO_COLOR and FORCE_COLOR set it, too.',
  },
  { name: 'help', help: 'Print what the command takes.' },
];

/** The description of a command. The parser, the help, the manual page, the table of exit
 * codes and the completion scripts of shells are all made from it. */
export interface Command {
  readonly name: string;
  /** What the command answers, in half a line. */
  readonly summary: string;
  /** Its operands, as the help shows them. */
  readonly operands: string;
  /** The words that an operand may be: the only ones, or where `completes` names a kind of word, those of the first. */
  readonly operandOneOf?: readonly string[];
  /** The kinds of word that its operands can be, for completion. */
  readonly completes: readonly WordKind[];
  readonly options: readonly Option[];
  /** Paragraphs printed below the options. */
  readonly notes: readonly string[];
  readonly examples: readonly string[];
  readonly exits: Exits;
  /** The files that it reads and writes. Left out: none. */
  readonly files?: readonly FileUse[];
  /**
   * For a command whose work is done even where its answer cannot be printed: a sentence that says so. Left out: the
   * answer is all that it does.
   */
  readonly kept?: string;
}
