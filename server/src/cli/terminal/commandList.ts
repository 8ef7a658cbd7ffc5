import { objectives } from '../../model/rank/objectives/objectives.ts';
import { logCommand } from '../log/logCommand.ts';
import type { Command, Option } from './command.ts';

export type { Command, Option } from './command.ts';

const asOf: Option = {
  name: 'as-of',
  value: 'DATE',
  help: 'The morning to answer for, such as 2026-10-05. Left out: the day after the last log entry.',
};
const json: Option = { name: 'json', help: 'Print JSON and nothing else.' };
const runner: Option = {
  name: 'runner',
  value: 'NAME',
  help: 'Whose logs to use, where several runners are named.',
};

const objectiveHelp = objectives.map(
  ({ id, meaning }, index) => `${id}${index === 0 ? ' (default)' : ''}, ${meaning}`,
);
const objectivesWithTarget = objectives.flatMap(({ id, needs }) => (needs === 'target' ? id : []));

const files =
  'A route stands for itself and for the logs and week beside it, a log or week for its route, a folder for ' +
  'everything below it. Without any, the current folder is meant.';

export const commands: readonly Command[] = [
  {
    name: 'check',
    summary: 'what is wrong, where, and how to mend it',
    operands: '[FILE|FOLDER ...]',
    options: [
      { name: 'fix', help: 'Apply the edits that mend what was found, in the files and folders given only.' },
      { name: 'sarif', help: 'Print a SARIF 2.1.0 log and nothing else.' },
      {
        name: 'fail-on',
        value: 'SEVERITY',
        oneOf: ['error', 'warning', 'hint'],
        help: 'Exit 1 from this severity on: error (default), warning or hint.',
      },
      runner,
      { ...asOf, help: `${asOf.help} Entries after a given date are findings.` },
      json,
    ],
    notes: [
      files,
      'Exits 0 where nothing was found, 1 with findings, 2 on wrong use or input that cannot be read.',
    ],
    examples: ['routewright check', 'routewright check lanternfall.route.yaml --fix --fail-on warning'],
  },
  {
    name: 'rank',
    summary: 'which technique to learn next, by seconds gained per hour of practice',
    operands: '[FILE|FOLDER ...]',
    options: [
      { name: 'all', help: 'Rank the techniques that are in the run already, too.' },
      runner,
      {
        name: 'objective',
        value: 'WHAT',
        oneOf: objectives.map(({ id }) => id),
        help: `What practice is to serve: ${objectiveHelp.slice(0, -1).join('; ')}, or ${objectiveHelp.at(-1)}.`,
      },
      {
        name: 'target',
        value: 'TIME',
        help: `The time to beat with --objective ${objectivesWithTarget.join(' or ')}, such as 41:30. Default: the week file, then the route.`,
      },
      {
        name: 'explain',
        value: 'TECHNIQUE',
        help: 'Every number of its row, with what it came from, in place of the table.',
      },
      {
        name: 'cycle',
        value: 'TECHNIQUE=SECONDS',
        many: true,
        help: 'What its rank becomes if an attempt and the way back took so many seconds in all. May be repeated.',
      },
      asOf,
      json,
    ],
    notes: [
      files,
      'The numbers come from a model of learning and are ranges, not promises. It takes it that a technique is tried ' +
        'in runs only where that pays, and that a night adds 20 % to what a day of practice gave: common practice, not ' +
        'settled, and yours to change (model: overnight_gain in the week file).',
      'Exits 0 with a ranking, 1 where there is nothing to rank, 2 on wrong use or input that cannot be read.',
    ],
    examples: [
      'routewright rank lanternfall.route.yaml',
      'routewright rank --explain wall-kick',
      'routewright rank --cycle tide-skip=6 --as-of 2026-10-05 --json',
    ],
  },
  {
    name: 'plan',
    summary: 'the practice sessions of the week, with blocks and rests',
    operands: '[FILE|FOLDER ...]',
    options: [
      { name: 'weeks', value: 'N', help: 'How many weeks to plan, 1 to 12. Left out: 4.' },
      {
        name: 'ics',
        value: 'FILE',
        help: 'Write the sessions and the time for runs as a calendar file, too. A later plan updates what was imported.',
      },
      {
        name: 'at',
        value: 'HH:MM',
        help: 'When sessions start in the calendar file. Left out: when they mostly did in the logs, else 19:00.',
      },
      runner,
      asOf,
      json,
    ],
    notes: [
      files,
      'The minutes of each day come from the week file (days:, off:), and rests are part of them. The same few ' +
        'techniques are practised each session until each is competent and something better waits.',
      'Long days tire hands and wrists. Pain is a reason to stop and to see a clinician.',
      'Exits 0 with a plan, 1 where there is nothing to plan, 2 on wrong use or input that cannot be read.',
    ],
    examples: [
      'routewright plan lanternfall.route.yaml',
      'routewright plan --weeks 2 --ics practice.ics --at 19:30',
    ],
  },
  {
    name: 'odds',
    summary: 'what a run comes to, the chance to beat the target, where to reset',
    operands: '[FILE|FOLDER ...]',
    options: [
      {
        name: 'target',
        value: 'TIME',
        help: 'The time to beat, such as 41:30. Left out: the one in the week file, else in the route.',
      },
      {
        name: 'with',
        value: 'TECHNIQUE',
        many: true,
        help: 'Count this technique in, besides those in the run. May be repeated.',
      },
      runner,
      asOf,
      json,
    ],
    notes: [
      files,
      'Counted in is what the week file or the last runs say is in the run; of these, each is tried where that lowers ' +
        'the expected time. Landing rates are those that the logs suggest, and what is uncertain about them is averaged over.',
      'Exits 0 with odds, 2 on wrong use or input that cannot be read.',
    ],
    examples: [
      'routewright odds lanternfall.route.yaml',
      'routewright odds --target 41:20 --with lamp-clip,tide-skip',
    ],
  },
  {
    name: 'review',
    summary: 'what the last week of practice and runs says',
    operands: '[FILE|FOLDER ...]',
    options: [runner, asOf, json],
    notes: [
      files,
      'The last week is the seven days before the morning that is answered for.',
      'Exits 0 with a review, 1 where nothing is logged, 2 on wrong use or input that cannot be read.',
    ],
    examples: ['routewright review lanternfall.route.yaml', 'routewright review --as-of 2026-11-09 --json'],
  },
  {
    name: 'compare',
    summary: 'two routes, or one at two git revisions, by segment and technique',
    operands: 'A B',
    options: [
      {
        name: 'target',
        value: 'TIME',
        help: 'The time to beat, such as 41:30. Left out: the one in the week file, else in the second route, else in the first.',
      },
      {
        name: 'with',
        value: 'TECHNIQUE',
        many: true,
        help: 'Count this technique in on both sides, besides those in the run. May be repeated.',
      },
      runner,
      asOf,
      json,
    ],
    notes: [
      'A and B are route files, or REVISION:FILE for a route file as git has it at a branch, tag or commit. A revision ' +
        'stands for the route and those it extends; logs and week are those of today. Where only one of two routes has ' +
        'logs, they serve for both.',
      'For a revision, git is started to read what it holds; nothing that the repository configures is run.',
      'Exits 0 with a comparison, 2 on wrong use or input that cannot be read.',
    ],
    examples: [
      'routewright compare lanternfall.route.yaml shortcut.route.yaml',
      'routewright compare HEAD~3:lanternfall.route.yaml lanternfall.route.yaml',
    ],
  },
  logCommand,
  {
    name: 'new',
    summary: 'a starter route with logs and a week, to be filled in',
    operands: '[FOLDER]',
    options: [
      { name: 'game', value: 'NAME', help: 'The game. Left out: My game.' },
      { name: 'category', value: 'NAME', help: 'The category. Left out: any%.' },
      json,
    ],
    notes: ['Makes the folder where it does not exist. A file that exists is never overwritten.'],
    examples: ['routewright new lanternfall --game Lanternfall'],
  },
  {
    name: 'serve',
    summary: 'the language server, for any editor that speaks the Language Server Protocol',
    operands: '--stdio',
    options: [
      { name: 'stdio', help: 'Speak over standard input and output (required: there is no other way).' },
    ],
    notes: [],
    examples: ['routewright serve --stdio'],
  },
];
