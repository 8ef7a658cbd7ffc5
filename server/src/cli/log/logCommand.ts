import type { Command } from '../terminal/command.ts';

/** The operands, options and help of `log`. */
export const logCommand: Command = {
  name: 'log',
  summary: 'an attempt, a block or a run, logged so that it is not lost',
  operands: '[TECHNIQUE] [FILE|FOLDER]',
  completes: ['technique', 'file'],
  options: [
    { name: 'start', help: 'A block on the technique begins now.' },
    {
      name: 'landed',
      value: '[N]',
      optionalNumber: true,
      help: 'An attempt landed. With a number and --tries: how many landed in a whole block.',
    },
    { name: 'missed', help: 'An attempt was missed.' },
    {
      name: 'undo',
      help: 'Take back what was logged last: an attempt, a block or run logged whole, or an import.',
    },
    { name: 'end', help: 'The block ends now. With --landed N --tries M where they were counted.' },
    { name: 'tries', value: 'M', help: 'Attempts of the block, with --landed N.' },
    { name: 'tape', value: 'LETTERS', help: 'A whole block, one letter an attempt: l landed, m missed.' },
    {
      name: 'minutes',
      value: 'MINUTES',
      help: "Length of a block logged whole. Left out: the attempts times the technique's cycle.",
    },
    {
      name: 'at',
      value: 'MOMENT',
      help: 'When it began, such as 2026-10-05T19:30. Left out: it ends now.',
    },
    { name: 'on', value: 'WORD', help: 'What it was done on, such as emulator.' },
    { name: 'run', help: 'Log one run, with the options below.' },
    { name: 'total', value: 'TIME', help: 'Final time of the run.' },
    {
      name: 'times',
      value: 'SEGMENT=TIME',
      completes: 'segment',
      separator: '=',
      repeatable: true,
      help: 'Time of a segment. May be repeated.',
    },
    {
      name: 'tried',
      value: 'TECHNIQUE=LANDED/TRIES',
      completes: 'technique',
      separator: '=',
      repeatable: true,
      help: 'What was tried in the run. May be repeated.',
    },
    {
      name: 'ended',
      value: 'SEGMENT:WHY',
      completes: 'segment',
      separator: ':',
      help: 'Where the run ended early and why: miss, death or reset; miss:TECHNIQUE says by which.',
    },
    {
      name: 'import',
      value: 'FILE.csv',
      completes: 'file',
      help: 'Add the rows of a table from a spreadsheet, blocks or runs, with commas, semicolons or tabs.',
    },
    {
      name: 'columns',
      value: 'HEADING=MEANING',
      repeatable: true,
      help: 'What a column of the table holds, where its heading does not say; ignored leaves it out. May be repeated.',
    },
    {
      name: 'dates',
      value: 'day-first|month-first',
      help: 'How dates such as 3/4/2026 are read, where the table alone does not say.',
    },
    {
      name: 'moved-from',
      value: 'FILE',
      completes: 'file',
      help: 'Bring in what waits for a practice or runs file under its former name or place.',
    },
    {
      name: 'to',
      value: 'FILE|FOLDER',
      completes: 'file',
      help: 'Log, route or folder that the entries go into, from wherever the command runs.',
    },
    { name: 'dry-run', help: 'Show what --import would add, and write nothing.' },
    { name: 'runner', value: 'NAME', help: 'Whose logs to use, where several runners are named.' },
    { name: 'json', help: 'Print JSON and nothing else.' },
  ],
  notes: [
    'Meant for a hotkey, a pedal or a macro pad. The first word is the technique: its id, or its name in quotes. A file ' +
      'or folder of the route may follow. Once a block is open, the technique may be left out. Each attempt is written ' +
      "into a journal in the system's folder for such data before the command answers. A block goes into the practice " +
      'file when it ends, when the next one begins or after half an hour without an attempt; while an editor has the ' +
      'file open, the editor puts it there.',
    'Where no file is named, entries go to the route near the current folder; where several are near, to the one named ' +
      'last in this folder; in a folder without a route, to the log that --to names, or `log: FILE` in settings.yaml ' +
      'in the routewright folder of your configuration (~/.config on Linux).',
    'With nothing to log, it writes the finished blocks into the file and says what still waits.',
    'A table has a row of headings. Columns of blocks: date (or start), technique, minutes, landed, tries, result (such ' +
      'as 61/190), tape, attempts, seen, on; segment and tried for a segment that was practised whole; or a column for each ' +
      'technique, under its name, with results. Columns of runs: date, total, tried, first, ended, on, and columns named like segments for ' +
      'times or like techniques (technique@use) for results; runs, finished and minutes for an evening in short. Both may have notes, id, and columns of your own that begin with x-. ' +
      'clock is the time of day, where the date has none. Techniques and segments are named by id or name. A cell that cannot be read ' +
      'is refused with its line before anything is written; a row that the log has already is left out and reported.',
  ],
  exits: {
    fine: 'It is logged, or there was nothing to do.',
    findings: 'An import had nothing to add.',
    wrong: 'Nothing was logged.',
  },
  files: [
    ['NAME.practice.yaml, NAME.runs.yaml', 'The logs that entries go into; begun where there is none.'],
    ['NAME.route.yaml', 'Read, for ids, names and cycles.'],
    [
      'settings.yaml',
      'In ~/.config/routewright on Linux: with log: FILE, the log for folders without a route.',
    ],
    [
      'journals',
      'In ~/.local/state/routewright on Linux, or where ROUTEWRIGHT_STATE_HOME says: attempts until a log holds them.',
    ],
  ],
  examples: [
    'routewright log crate-vault --start',
    'routewright log --landed',
    'routewright log crate-vault --landed 12 --tries 20 --minutes 15',
    'routewright log --run --total 41:30.2 --tried crate-vault=1/1',
    'routewright log --import runs.csv --columns "Final time=total" --dry-run',
  ],
  kept: 'What was logged is kept all the same: do not log it again.',
};
