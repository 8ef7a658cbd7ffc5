import type { FileUse, Option } from '../terminal/command.ts';
import { asOfProblem } from '../terminal/optionValues.ts';

// Options and sentences that several commands share.

export const asOf: Option = {
  name: 'as-of',
  value: 'DATE',
  problem: asOfProblem,
  help:
    'The day to answer for: a date such as 2026-10-05, or last for the day after the last log entry, which gives ' +
    'the same answer whenever it is asked. Left out: today.',
};
export const json: Option = { name: 'json', help: 'Print JSON and nothing else.' };
export const runner: Option = {
  name: 'runner',
  value: 'NAME',
  help: 'Whose logs to use, where several runners are named. Left out: those given, else those beside the route, else those of the week file.',
};

export const filesNote =
  'A route stands for itself and for the logs, week and pool beside it, each of these for its route, a folder for ' +
  'everything below it. Without any, the current folder is meant, with some levels below it; where no route is there, ' +
  "the folders above it up to the repository's root.";

export const longDaysNote =
  'Long days tire hands and wrists. Pain is a reason to stop and to see a clinician.';

export const wrongUse = 'Wrong use, or input that cannot be read.';

/** What a command reads that answers about a route. */
export const readFiles: readonly FileUse[] = [
  ['NAME.route.yaml', 'The route, with those that it extends.'],
  ['NAME.practice.yaml, NAME.runs.yaml', 'The logs of that route.'],
  ['NAME.week.yaml', 'The time for practice, the target, and where techniques stand.'],
  ['NAME.pool.yaml', 'What other runners found out about the techniques of that route.'],
];

/** The same of a command whose answers are kept from one process to the next. */
export const readAndKeptFiles: readonly FileUse[] = [
  ...readFiles,
  [
    'answers',
    'In ~/.cache/routewright on Linux, or where ROUTEWRIGHT_CACHE_HOME says: earlier answers, safe to delete.',
  ],
];
