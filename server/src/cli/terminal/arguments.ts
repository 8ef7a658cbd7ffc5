// Uses Node's own parser, and adds here what it lacks: the sentences about wrong use, a number that may be left out,
// several values in one, the nearest name. Why no larger library is used: ../decisions/2026-11-28-arguments.md.
import { parseArgs, type ParseArgsConfig } from 'node:util';
import { closestWord } from '../../text/closestWord.ts';
import { formatList } from '../../text/format.ts';
import { cliError, type CliError, isCliError } from './cliError.ts';
import { type Command, commonOptions, type Option } from './command.ts';
import { type HelpTopic, helpTopics } from './helpPage.ts';
import { splitAtCommas } from './optionValues.ts';

/** A command with the arguments after it. */
export interface Request {
  readonly command: Command;
  /** Files, folders and other words that are not options, as written. */
  readonly paths: readonly string[];
  readonly switches: ReadonlySet<string>;
  /** Values of options, as written. */
  readonly values: ReadonlyMap<string, string>;
  /** Values of the options that hold a number (`Option.number`). */
  readonly numbers: ReadonlyMap<string, number>;
  /** Values of the options that may be given several times, in their order. */
  readonly lists: ReadonlyMap<string, readonly string[]>;
}

/** The meaning of the command line: a command to run, a text to print, or an error about wrong use. */
export type ParsedArguments =
  | { readonly kind: 'command'; readonly request: Request }
  | { readonly kind: 'help'; readonly of: Command | HelpTopic | undefined }
  | { readonly kind: 'manual' }
  | { readonly kind: 'version' }
  | ({ readonly kind: 'error' } & CliError);

/**
 * Parses the arguments after `routewright`.
 *
 * @param commands every command that exists
 */
export function parseArguments(argv: readonly string[], commands: readonly Command[]): ParsedArguments {
  const [first, ...rest] = argv;
  if (first === undefined) return usageError(`Say what to do: ${namesOf(commands, 'or')}.`);
  if (first === '--version' || first === '-v') return { kind: 'version' };
  if (first === '--help' || first === '-h' || first === 'help') return helpAbout(rest[0], commands);
  if (first.startsWith('-'))
    return usageError(`The command comes first: routewright rank ${first}, for example.`);
  const command = findCommand(first, commands);
  return isCliError(command) ? { kind: 'error', ...command } : parseOptions(command, rest);
}

function helpAbout(word: string | undefined, commands: readonly Command[]): ParsedArguments {
  if (word === undefined) return { kind: 'help', of: undefined };
  if (word === '--man') return { kind: 'manual' };
  const topic = helpTopics.find((name) => name === word);
  const of = topic ?? findCommand(word, commands, helpTopics);
  return isCliError(of) ? { kind: 'error', ...of } : { kind: 'help', of };
}

/** @param others words that may be meant instead of a command */
function findCommand(
  name: string,
  commands: readonly Command[],
  others: readonly string[] = [],
): Command | CliError {
  const command = commands.find((candidate) => candidate.name === name);
  if (command) return command;
  const suggestion = closestWord(name, [...commands.map((candidate) => candidate.name), ...others]);
  const hint = suggestion ? `Did you mean ${suggestion}?` : `There are ${namesOf(commands, 'and')}.`;
  return cliError(`There is no command ${name}. ${hint}`);
}

function namesOf(commands: readonly Command[], before: 'and' | 'or'): string {
  return formatList(
    commands.map(({ name }) => name),
    before,
  );
}

function parseOptions(command: Command, argv: readonly string[]): ParsedArguments {
  const options = [...command.options, ...commonOptions];
  const config: NonNullable<ParseArgsConfig['options']> = {};
  for (const { name, value, optionalNumber } of options)
    config[name] = { type: value === undefined || optionalNumber ? 'boolean' : 'string' };
  config.help = { type: 'boolean', short: 'h' };
  // Not strict, because the sentences about wrong use are our own.
  const { tokens } = parseArgs({
    args: [...argv],
    strict: false,
    tokens: true,
    allowPositionals: true,
    options: config,
  });
  if (tokens.some((token) => token.kind === 'option' && token.name === 'help'))
    return { kind: 'help', of: command };
  const paths: string[] = [];
  const switches = new Set<string>();
  const values = new Map<string, string>();
  const numbers = new Map<string, number>();
  const lists = new Map<string, string[]>();
  // Indices of arguments that are the number of the option before them.
  const usedNumbers = new Set<number>();
  for (const [index, token] of tokens.entries()) {
    if (token.kind === 'positional' && !usedNumbers.has(index)) paths.push(token.value);
    if (token.kind !== 'option') continue;
    const option = options.find(({ name }) => name === token.name);
    if (!option) return usageError(unknownOptionMessage(command, token.rawName));
    if (option.optionalNumber) {
      const next = tokens[index + 1];
      const number = next?.kind === 'positional' && /^\d+$/.test(next.value) ? next.value : undefined;
      if (token.value === undefined && number !== undefined) usedNumbers.add(index + 1);
      const value = token.value ?? number;
      if (value === undefined) switches.add(option.name);
      else values.set(option.name, value);
    } else if (option.value === undefined) {
      if (token.value !== undefined) return usageError(`--${option.name} takes no value.`);
      switches.add(option.name);
    } else {
      const { value, inlineValue } = token;
      const missing = value === undefined || value === '' || (value.startsWith('-') && !inlineValue);
      if (missing) return usageError(missingValueMessage(option));
      const problem = valueProblem(option, value);
      if (problem !== undefined) return usageError(problem);
      if (option.repeatable)
        lists.set(option.name, [...(lists.get(option.name) ?? []), ...splitAtCommas(value)]);
      else if (option.number) {
        const number = option.number(value);
        if (typeof number === 'string') return usageError(number);
        numbers.set(option.name, number);
      } else values.set(option.name, value);
    }
  }
  return { kind: 'command', request: { command, paths, switches, values, numbers, lists } };
}

function missingValueMessage({ name, oneOf, value }: Option): string {
  return `--${name} needs a value: --${name} ${oneOf?.join('|') ?? value}.`;
}

function valueProblem({ name, oneOf, problem }: Option, value: string): string | undefined {
  if (oneOf && !oneOf.includes(value)) return `--${name} can be ${formatList(oneOf, 'or')}, not ${value}.`;
  return problem?.(value);
}

function unknownOptionMessage(command: Command, written: string): string {
  const names = [...command.options, ...commonOptions].map(({ name }) => `--${name}`);
  const suggestion = closestWord(written, names);
  const hint = suggestion ? `Did you mean ${suggestion}?` : `See routewright ${command.name} --help.`;
  return `${command.name} has no option ${written}. ${hint}`;
}

function usageError(message: string): ParsedArguments {
  return { kind: 'error', ...cliError(message) };
}
