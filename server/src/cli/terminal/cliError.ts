import { exitCodes } from './io.ts';

/**
 * What is printed for a person in place of an answer, and the exit code of the program. Functions return it as a value;
 * only `runCommandLine` prints it, on stderr.
 */
export interface CliError {
  /** Whole sentences, without a line break at the end. */
  readonly message: string;
  /** One of `exitCodes`. */
  readonly exitCode: number;
}

/** The result of a command: an exit code after it has answered, or an error. */
export type CommandResult = number | CliError;

/** @param exitCode default: 2, wrong use or input that cannot be read */
export function cliError(message: string, exitCode: number = exitCodes.wrong): CliError {
  return { message, exitCode };
}

export function isCliError(value: unknown): value is CliError {
  return typeof value === 'object' && value !== null && 'message' in value && 'exitCode' in value;
}
