import type { ModelInput } from '../../queries/modelInput.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { basisText } from '../../reports/basisText.ts';
import { titleOf } from '../project/titleOf.ts';
import { exitCodes, type Io, printJson } from '../terminal/io.ts';
import type { ChosenRoute } from './chooseRoute.ts';

/** What every answer about a route says first, and the names that it uses. */
export interface AnswerHead {
  /** Game, category and file. */
  readonly title: string;
  /** Whole sentences on the day that the answer is for, and on the logs that it is based on. */
  readonly basis: string;
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

/** The head of an answer. */
export function answerHead(
  { project, own, answerDay }: ChosenRoute,
  modelInput: ModelInput,
  io: Io,
): AnswerHead {
  return {
    title: titleOf(project, io),
    basis: basisText(own, modelInput, answerDay),
    names: techniqueNamesOf(project),
  };
}

/** The two forms of an answer; only the one that is asked for is made. */
export interface Answer {
  readonly json: () => unknown;
  /** Writes the answer for people to stdout. */
  readonly print: () => void;
  /** Whether there was nothing to answer. Default: false. */
  readonly empty?: boolean;
}

/** Prints an answer in the form that was asked for. Returns the exit code. */
export function giveAnswer({ json, print, empty = false }: Answer, route: ChosenRoute, io: Io): number {
  if (route.asked.json) printJson(io, json());
  else print();
  return exitCodeOf(route, empty);
}

/** The exit code of an answer about a route. */
export function exitCodeOf({ incomplete }: ChosenRoute, empty: boolean): number {
  if (incomplete) return exitCodes.wrong;
  return empty ? exitCodes.findings : exitCodes.fine;
}
