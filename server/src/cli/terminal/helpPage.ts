// What the help says, in parts: the terminal (help.ts) and the manual page (manPage.ts) show the same.
import { type Command, commonOptions, type Option } from './command.ts';
import { exitCodes } from './io.ts';

/** Names, each with what is said of it. */
export type HelpRows = readonly (readonly [name: string, said: string])[];

export interface HelpSection {
  readonly title: string;
  readonly rows?: HelpRows;
  /** Lines that stay as they are, to be copied. */
  readonly lines?: readonly string[];
  readonly prose?: readonly string[];
}

/** Subjects of `routewright help` that are no command. */
export const helpTopics = ['exit-codes'] as const;
export type HelpTopic = (typeof helpTopics)[number];

export const about =
  'Speedrun routes as code: checks route files, and works out from logged practice which technique to learn next.';

/** The options of `routewright` itself. */
export const ownOptions: HelpRows = [
  ['--help', 'Print this, or after a command what it takes.'],
  ['--version', 'Print the version.'],
];

/** What `routewright help` can be asked beyond the list of commands. */
export const helpUses: HelpRows = [
  ['help COMMAND', 'The page of a command: options, examples, exit codes and files.'],
  ['help exit-codes', 'The exit codes of all commands.'],
  ['help --man', 'The manual page of all this, for man.'],
];

/** How a command is called. */
export function usageOf({ name, operands, options }: Command): string {
  const optional = options.some((option) => !operands.includes(`--${option.name}`));
  return `routewright ${name} ${operands}${optional ? ' [options]' : ''}`;
}

/** What is said of a command below its usage and its summary. */
export function sectionsOf(command: Command): HelpSection[] {
  const { options, notes, examples, files = [] } = command;
  return [
    { title: 'Options', rows: [...options, ...commonOptions].map((one) => [optionUsage(one), one.help]) },
    ...(notes.length > 0 ? [{ title: 'Notes', prose: notes }] : []),
    { title: examples.length === 1 ? 'Example' : 'Examples', lines: examples },
    { title: 'Exit codes', rows: exitRows(command) },
    ...(files.length > 0 ? [{ title: 'Files', rows: files }] : []),
  ];
}

function optionUsage({ name, value }: Option): string {
  return value === undefined ? `--${name}` : `--${name} ${value}`;
}

/** Each exit code that a command gives, with what it says. */
export function exitRows({ exits }: Command): HelpRows {
  const { fine, findings, wrong } = exits;
  const second = findings === undefined ? [] : [[String(exitCodes.findings), findings] as const];
  return [[String(exitCodes.fine), fine], ...second, [String(exitCodes.wrong), wrong]];
}

/** What holds for the exit codes of every command. */
export const exitNotes: readonly string[] = [
  'Help and version end with 0, whatever else is written; a word that is no command, and a fault of the program, with 2.',
  'Where an answer could not be written, to a full disk for example, the exit code is 2; log and new end as they would ' +
    'have, because what they did is done.',
];

/** What of the environment matters. */
export const environmentRows: HelpRows = [
  ['COLUMNS', 'The width of the answer. Left out: that of the terminal, or 80.'],
  [
    'LC_ALL, LC_CTYPE, LANG, TERM',
    'Answers are in ASCII where the locale is not UTF-8 or the terminal is dumb.',
  ],
  ['NO_COLOR, FORCE_COLOR', 'Neither weight nor colour, or both also where the answer is no terminal.'],
  ['XDG_CONFIG_HOME', 'Where the folder routewright with settings.yaml is.'],
  ['ROUTEWRIGHT_STATE_HOME', 'Where journals are.'],
];
