import { parseArgs, type ParseArgsConfig } from 'node:util';
import { closestWord } from '../../text/closestWord.ts';
import { parseMoment } from '../../text/calendar.ts';
import { parseTime } from '../../text/time.ts';
import { commands, type Command } from './commandList.ts';
import { formatList } from '../../text/format.ts';

/** A command with what was written behind it. */
export interface Request {
  readonly command: Command;
  /** Files and folders, as written. */
  readonly paths: readonly string[];
  readonly switches: ReadonlySet<string>;
  readonly values: ReadonlyMap<string, string>;
  /** Values of the options that may be given several times, in their order. */
  readonly lists: ReadonlyMap<string, readonly string[]>;
}

/** What the command line asks for: a command, a text to print, or nothing that makes sense. */
export type ParsedArguments =
  | { readonly kind: 'command'; readonly request: Request }
  | { readonly kind: 'help'; readonly of: Command | undefined }
  | { readonly kind: 'version' }
  | { readonly kind: 'wrong'; readonly message: string };

/** Reads the arguments behind `routewright`. */
export function parseArguments(argv: readonly string[]): ParsedArguments {
  const [first, ...rest] = argv;
  if (first === undefined) return usageError(`Say what to do: ${names().replace(' and ', ' or ')}.`);
  if (first === '--version' || first === '-v') return { kind: 'version' };
  if (first === '--help' || first === '-h' || first === 'help') return helpFor(rest[0]);
  if (first.startsWith('-'))
    return usageError(`The command comes first: routewright rank ${first}, for example.`);
  const command = commands.find(({ name }) => name === first);
  return command ? readCommand(command, rest) : usageError(unknownCommand(first));
}

function helpFor(name: string | undefined): ParsedArguments {
  if (name === undefined) return { kind: 'help', of: undefined };
  const command = commands.find((candidate) => candidate.name === name);
  return command ? { kind: 'help', of: command } : usageError(unknownCommand(name));
}

function unknownCommand(name: string): string {
  const meant = closestWord(
    name,
    commands.map((command) => command.name),
  );
  return `There is no command ${name}. ${meant ? `Did you mean ${meant}?` : `There are ${names()}.`}`;
}

function names(): string {
  return formatList(commands.map(({ name }) => name));
}

function readCommand(command: Command, argv: readonly string[]): ParsedArguments {
  const options: NonNullable<ParseArgsConfig['options']> = { help: { type: 'boolean', short: 'h' } };
  for (const { name, value, bare } of command.options)
    options[name] = { type: value === undefined || bare ? 'boolean' : 'string' };
  // Not strict: the words about what is wrong are our own.
  const { tokens } = parseArgs({
    args: [...argv],
    strict: false,
    tokens: true,
    allowPositionals: true,
    options,
  });
  const paths: string[] = [];
  const switches = new Set<string>();
  const values = new Map<string, string>();
  const lists = new Map<string, string[]>();
  if (tokens.some((token) => token.kind === 'option' && token.name === 'help'))
    return { kind: 'help', of: command };
  // Numbers that belong to the option before them.
  const taken = new Set<number>();
  for (const [at, token] of tokens.entries()) {
    if (token.kind === 'positional' && !taken.has(at)) paths.push(token.value);
    if (token.kind !== 'option') continue;
    const option = command.options.find(({ name }) => name === token.name);
    if (!option) return usageError(unknownOption(command, token.rawName));
    if (option.bare) {
      const next = tokens[at + 1];
      const number = next?.kind === 'positional' && /^\d+$/.test(next.value) ? next.value : undefined;
      const value = token.value ?? number;
      if (token.value === undefined && number !== undefined) taken.add(at + 1);
      if (value === undefined) switches.add(option.name);
      else values.set(option.name, value);
      continue;
    }
    if (option.value === undefined) {
      if (token.value !== undefined) return usageError(`--${option.name} takes no value.`);
      switches.add(option.name);
      continue;
    }
    const { value } = token;
    if (value === undefined || value === '' || (value.startsWith('-') && !token.inlineValue))
      return usageError(
        `--${option.name} needs a value: --${option.name} ${option.oneOf?.join('|') ?? option.value}.`,
      );
    const problem = problemOf(option.name, value, option.oneOf);
    if (problem !== undefined) return usageError(problem);
    if (option.many) lists.set(option.name, [...(lists.get(option.name) ?? []), ...partsOf(value)]);
    else values.set(option.name, value);
  }
  return { kind: 'command', request: { command, paths, switches, values, lists } };
}

function partsOf(value: string): string[] {
  return value
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

function problemOf(name: string, value: string, oneOf: readonly string[] | undefined): string | undefined {
  if (oneOf && !oneOf.includes(value))
    return `--${name} can be ${formatList(oneOf).replace(' and ', ' or ')}, not ${value}.`;
  if (name === 'target' && parseTime(value) === undefined)
    return `--target needs a time such as 41:30 or 92.4, not ${value}.`;
  if (name === 'cycle') {
    const bad = partsOf(value).find((part) => parseCycle(part) === undefined);
    if (bad !== undefined)
      return `--cycle needs a technique and its seconds, such as tide-skip=6, not ${bad}.`;
  }
  if (name === 'as-of') {
    const day = parseMoment(value);
    if (!day || day.minute !== undefined) return `--as-of needs a date such as 2026-10-05, not ${value}.`;
  }
  return undefined;
}

function unknownOption(command: Command, written: string): string {
  const names = command.options.map(({ name }) => `--${name}`);
  const meant = closestWord(written, names);
  const way = meant ? `Did you mean ${meant}?` : `See routewright ${command.name} --help.`;
  return `${command.name} has no option ${written}. ${way}`;
}

function usageError(message: string): ParsedArguments {
  return { kind: 'wrong', message };
}

/** Day number of `--as-of`; undefined where it is not given. */
export function asOfDay(request: Request): number | undefined {
  const written = request.values.get('as-of');
  return written === undefined ? undefined : parseMoment(written)?.date;
}

/** Seconds of `--target`; undefined where it is not given. */
export function targetOption(request: Request): number | undefined {
  const written = request.values.get('target');
  return written === undefined ? undefined : parseTime(written);
}

/** A technique and the seconds of its cycle, as `--cycle` is written; undefined where it is not that. */
export function parseCycle(written: string): { technique: string; seconds: number } | undefined {
  const match = /^([^=]+)=(.+)$/.exec(written);
  const seconds = match && parseTime(match[2]!);
  return match && seconds ? { technique: match[1]!.trim(), seconds } : undefined;
}
