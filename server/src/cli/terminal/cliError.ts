import { exitCodes } from './io.ts';

/**
 * What a person is told in place of an answer, and how the program then ends. Functions hand it on as a value;
 * `runCommandLine` alone prints it, on stderr.
 */
export interface CliError {
  /** Whole sentences, without a line break at the end. */
  readonly message: string;
  /** One of `exitCodes`. */
  readonly exitCode: number;
}

/** How a command ends: with an exit code after it has answered, or with an error. */
export type CommandResult = number | CliError;

/** @param exitCode left out: 2, wrong use or input that cannot be read */
export function cliError(message: string, exitCode: number = exitCodes.wrong): CliError {
  return { message, exitCode };
}

export function isCliError(value: unknown): value is CliError {
  return typeof value === 'object' && value !== null && 'message' in value && 'exitCode' in value;
}
