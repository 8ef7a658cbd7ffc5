import type { CodePage } from './engine/rule.ts';

/** What the documentation says of a code that reading a file reports. */
export type ReadingPage = Pick<CodePage, 'why' | 'way'> & Partial<Pick<CodePage, 'failing' | 'passing'>>;

const unread = 'Part of the file has no meaning and is left out of everything.';
const route = (rest: string) => ({
  route: `segments:\n  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }\n${rest}`,
});
const vault = (rest: string) => route(`techniques:\n  crate-vault: { ${rest} }\n`);
const validExample = vault('difficulty: 3, saves: 3.2, loses: 1.4');
const header = 'game: Lanternfall\ncategory: any%\n';

/** By code. Those without examples are about the size or the name of a file, or about what no file of text can show. */
export const readingPages: Readonly<Record<string, ReadingPage>> = {
  'aliases-too-large': {
    why: 'Aliases of aliases can stand for more values than any machine holds: such a file is not read.',
    way: 'Write the values out, or use fewer aliases.',
  },
  'control-character': {
    why: `${unread} Such a character cannot be seen on a screen, and some programs cannot read a file with it.`,
    way: 'Delete it. It often comes with text pasted from elsewhere.',
    failing: { route: `notes: "a bell \u0007 rings"\n${validExample.route}` },
    passing: validExample,
  },
  'difficulty-out-of-scale': {
    why: 'Difficulty says how much practice a technique takes: 1 (easy) to 10 (very hard).',
    way: 'Write a number from 1 to 10.',
    failing: vault('difficulty: 11, saves: 3.2, loses: 1.4'),
    passing: validExample,
  },
  'duplicate-key': {
    why: 'Of two values for one key only one can count.',
    way: 'Take one of the two out.',
    failing: vault('difficulty: 3, saves: 3.2, loses: 1.4, loses: 2'),
    passing: validExample,
  },
  'empty-file': {
    why: 'A file that names no game or route belongs to nothing.',
    way: 'Begin with `game` and `category`, or in a log with `route`; the editor offers both.',
    failing: { 'example.route.yaml': '' },
    passing: validExample,
  },
  'file-not-read': {
    why: 'A link out of the folder, a pipe or a device could show what is elsewhere, or never come to an end. What is in the file counts for nothing.',
    way: 'The message says why it is not read. Put a file of text into its place, in UTF-8, or open a folder that holds both.',
  },
  'file-too-large': {
    why: 'A file of this size would make every key press slow, and several would fill the memory.',
    way: 'At most 20 MB of a file are read. Write one log a month or a season: several may name one route.',
  },
  'invalid-id': {
    why: 'Ids stand in logs, on the command line and behind an `@`: letters, digits and hyphens can be written everywhere.',
    way: 'Write it in small letters, with hyphens in place of spaces; the name may be anything.',
    failing: { route: 'segments:\n  - { id: Harbor Gate, time: 1:32.4 }\n' },
    passing: { route: 'segments:\n  - { id: harbor-gate, name: Harbor Gate, time: 1:32.4 }\n' },
  },
  'merge-conflict': {
    why: 'Two versions of the same lines cannot both count.',
    way: 'Choose one of the two and delete the markers.',
    failing: {
      route: `<<<<<<< mine
target: "1:31"
=======
target: "1:30"
>>>>>>> theirs
${validExample.route}`,
    },
    passing: { route: `target: "1:31"\n${validExample.route}` },
  },
  'misnamed-file': {
    why: 'Files are told apart by the ends of their names. One that is called `x.practise.yaml` or `x.routes.yaml` is not read, and what is in it counts for nothing.',
    way: 'Rename it as the message says. Only a file that has the keys of a route or a log is reported; `check` looks for it in each folder with files of a route.',
  },
  'missing-key': {
    why: unread,
    way: 'Add the key that the message names.',
    failing: vault('difficulty: 3, loses: 1.4'),
    passing: validExample,
  },
  'nested-too-deep': {
    why: 'No route has so many levels: an unclosed bracket has most likely swallowed the lines below it.',
    way: 'Close the bracket above.',
  },
  'out-of-range': {
    why: unread,
    way: 'Write a number within the range that the message names.',
    failing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, survive: 99 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, survive: 0.99 }\n' },
  },
  'several-documents': {
    why: 'Only the first document of a file is read.',
    way: 'Put the second into a file of its own.',
    failing: { 'example.route.yaml': `${header}${validExample.route}---\n${header}` },
    passing: validExample,
  },
  'unknown-key': {
    why: 'What stands under a key that means nothing is not read.',
    way: 'Correct the key; the fix writes the one with a similar spelling. Keys of your own begin with `x-`.',
    failing: vault('difficulty: 3, saves: 3.2, lose: 1.4'),
    passing: vault('difficulty: 3, saves: 3.2, loses: 1.4, x-colour: blue'),
  },
  'unreadable-time': {
    why: unread,
    way: 'Write seconds, or minutes and seconds as in 1:32.4.',
    failing: { route: 'segments:\n  - { id: harbor, time: 1m32 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, time: 1:32 }\n' },
  },
  'wrong-type': {
    why: unread,
    way: 'Write a value of the kind that the message names.',
    failing: vault('difficulty: hard, saves: 3.2, loses: 1.4'),
    passing: validExample,
  },
  'wrong-value': {
    why: unread,
    way: 'Write one of the values that the message names; the fix writes the one with a similar spelling.',
    failing: { week: 'states: { crate-vault: learnin }\n' },
    passing: { week: 'states: { crate-vault: learning }\n' },
  },
  'yaml-syntax': {
    why: 'Text that is not YAML is not read, and one open quote or bracket can hide the lines below it.',
    way: 'The message says what is missing; most often it is a quote, a bracket or a space behind a colon.',
    failing: { route: 'segments:\n  - { id: harbor, name: "Harbor gate, time: 1:32.4 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, name: "Harbor gate", time: 1:32.4 }\n' },
  },
};

/** Pages of the findings about comments that allow findings, by code. */
export const commentPages: Readonly<Record<string, CodePage>> = {
  'needless-allowance': {
    why: 'A comment that allows what is not found, or gives no reason, hides a later finding from the people who read the file.',
    way: 'Write `# allow CODE: reason` on the line or above it, `# allow CODE in this file: reason` for the whole file, and delete it once nothing is found any more.',
    failing: {
      week: 'days: { mon: 60 } # allow not-enough-minutes: a short evening\n',
    },
    passing: {
      week: 'days: { mon: 15 } # allow not-enough-minutes: a short evening, for stretching\n',
    },
  },
};
