/** What each command takes: the one place that the parser and the help are made from. */
export interface Option {
  readonly name: string;
  /** What stands for its value in the help; without it the option is a switch. */
  readonly value?: string;
  readonly help: string;
  /** The values it may have. */
  readonly oneOf?: readonly string[];
  /** May be given several times, or several values with commas between. */
  readonly many?: boolean;
  /** Its value, a whole number, may be left out. */
  readonly bare?: boolean;
}

export interface Command {
  readonly name: string;
  /** What it answers, in half a line. */
  readonly summary: string;
  readonly operands: string;
  readonly options: readonly Option[];
  /** Paragraphs below the options. */
  readonly notes: readonly string[];
  readonly examples: readonly string[];
}
