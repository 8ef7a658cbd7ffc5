/**
 * What a shell can complete in the place of a word: the id of a technique or a segment of the routes in the current
 * folder, a file, a folder.
 */
export type WordKind = 'technique' | 'segment' | 'file' | 'folder';

/** An option of a command. */
export interface Option {
  readonly name: string;
  /** The placeholder for its value in the help; without it the option is a switch. */
  readonly value?: string;
  readonly help: string;
  /** The values it may have. */
  readonly oneOf?: readonly string[];
  /** Says what is wrong with a value. Left out: every value that is not empty may be given. */
  readonly problem?: (value: string) => string | undefined;
  /** May be given several times, or several values with commas between. */
  readonly many?: boolean;
  /** Its value, a whole number, may be left out. */
  readonly bare?: boolean;
  /** What its value begins with, for completion. */
  readonly completes?: WordKind;
  /** What follows the id in its value, such as `=`. */
  readonly separator?: string;
}

/** What a command takes: the one description that the parser, the help and the completion of shells are made from. */
export interface Command {
  readonly name: string;
  /** What it answers, in half a line. */
  readonly summary: string;
  /** Its operands, as the help shows them. */
  readonly operands: string;
  /** The words that an operand may be. */
  readonly operandOneOf?: readonly string[];
  /** What its operands can be, for completion. */
  readonly completes: readonly WordKind[];
  readonly options: readonly Option[];
  /** Paragraphs below the options. */
  readonly notes: readonly string[];
  readonly examples: readonly string[];
}
