import type { Command } from '../terminal/command.ts';
import { asOf, filesNote, json, longDaysNote, readAndKeptFiles, runner, wrongUse } from './shared.ts';

/** The operands, options and help of `plan`. */
export const planCommand: Command = {
  name: 'plan',
  summary: 'the practice sessions of the week, with blocks and rests',
  operands: '[FILE|FOLDER ...]',
  completes: ['file'],
  options: [
    { name: 'weeks', value: 'N', help: 'How many weeks to plan, 1 to 12. Left out: 4.' },
    {
      name: 'ics',
      value: 'FILE',
      completes: 'file',
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
    filesNote,
    'The minutes of each day come from the week file (days:, off:), and rests are part of them. The same few ' +
      'techniques are practised each session until each is competent and something better waits.',
    longDaysNote,
  ],
  exits: {
    fine: 'There is a plan.',
    findings: 'There is nothing to plan.',
    wrong: wrongUse,
  },
  files: [...readAndKeptFiles, ['FILE of --ics', 'The calendar, written.']],
  examples: [
    'routewright plan lanternfall.route.yaml',
    'routewright plan --weeks 2 --ics practice.ics --at 19:30',
  ],
};
