import type { Input } from './seeds.ts';

/** A text made to take too long, too much memory or too deep a stack. */
export interface Bomb extends Input {
  readonly name: string;
}

/** Milliseconds of processor time that one of them may take: a chance input of a few kB has 2,000. */
export const bombLimit = 10_000;

const times = (count: number, make: (index: number) => string): string =>
  Array.from({ length: count }, (_, i) => make(i)).join('');

const route = (techniques: string): string =>
  `game: A game\ncategory: any\nsegments:\n  - { id: one, time: 60 }\ntechniques:\n${techniques}`;

/** Fixed inputs: each is small to write and large in what it asks for. */
export const bombs: readonly Bomb[] = [
  {
    name: 'aliases that double eight times nine',
    kind: 'route',
    text: `a0: &a0 [x, x, x, x, x, x, x, x, x]\n${times(12, (i) => `a${i + 1}: &a${i + 1} [${`*a${i}, `.repeat(9)}]\n`)}game: *a12\n`,
  },
  {
    name: 'merge keys that double',
    kind: 'route',
    text: `m0: &m0 { k: 1 }\n${times(30, (i) => `m${i + 1}: &m${i + 1} { a: *m${i}, b: *m${i}, <<: [*m${i}, *m${i}] }\n`)}techniques: *m30\n`,
  },
  { name: 'an alias of itself', kind: 'week', text: 'route: &r { a: *r }\nstates: &s { lamp: *s }\n' },
  {
    name: 'ten thousand anchors',
    kind: 'route',
    text: route(times(10_000, (i) => `  t${i}: &x${i} { difficulty: 3, saves: 1, loses: 1 }\n`)),
  },
  { name: 'a hundred thousand open brackets', kind: 'route', text: `segments: ${'['.repeat(100_000)}` },
  {
    name: 'a hundred thousand brackets, closed',
    kind: 'runs',
    text: `runs: ${'['.repeat(100_000)}${']'.repeat(100_000)}\n`,
  },
  { name: 'twenty thousand open braces', kind: 'week', text: `states: ${'{a: '.repeat(20_000)}` },
  {
    name: 'five thousand levels by indentation',
    kind: 'practice',
    text: `sessions:\n${times(5000, (i) => `${' '.repeat(i + 1)}a:\n`)}`,
  },
  {
    name: 'twenty thousand dashes in a line',
    kind: 'practice',
    text: `sessions:\n  ${'- '.repeat(20_000)}x\n`,
  },
  {
    name: 'a scalar of five million characters',
    kind: 'route',
    text: `game: ${'x'.repeat(5_000_000)}\ncategory: any\n`,
  },
  {
    name: 'a quoted scalar that is not closed',
    kind: 'runs',
    text: `route: "${'words and more '.repeat(100_000)}\nruns:\n${times(2000, (i) => `  - { total: ${i} }\n`)}`,
  },
  { name: 'a key of a million characters', kind: 'week', text: `${'k'.repeat(1_000_000)}: 1\n` },
  {
    name: 'a comment of two million characters',
    kind: 'route',
    text: `# ${'allow '.repeat(400_000)}\ngame: A game\n`,
  },
  {
    name: 'a hundred thousand empty lines',
    kind: 'practice',
    text: `route: a.route.yaml\n${'\n'.repeat(100_000)}sessions: []\n`,
  },
  {
    name: 'ten thousand findings',
    kind: 'route',
    text: route(times(10_000, (i) => `  t${i}: { difficulty: 99, needs: [nothing-${i}] }\n`)),
  },
  {
    name: 'ten thousand techniques of one name',
    kind: 'route',
    text: route('  t: { difficulty: 3, saves: 1 }\n'.repeat(10_000)),
  },
  {
    name: 'needs in one long circle',
    kind: 'route',
    text: route(
      times(3000, (i) => `  t${i}: { difficulty: 3, saves: 1, loses: 1, needs: [t${(i + 1) % 3000}] }\n`),
    ),
  },
  {
    name: 'a tape of a million attempts',
    kind: 'practice',
    text: `route: a.route.yaml\nsessions:\n  - date: 2026-10-05\n    blocks:\n      - { technique: lamp-hop, minutes: 60, tape: ${'lm'.repeat(500_000)} }\n`,
  },
  {
    name: 'numbers that do not fit',
    kind: 'runs',
    text: `route: a.route.yaml\nruns:\n${times(500, (i) => `  - { date: 2026-10-11, runs: ${'9'.repeat(i + 1)}, finished: 1e${i}, total: ${'9'.repeat(i + 1)}:59 }\n`)}`,
  },
  {
    name: 'a run of ten million tries',
    kind: 'runs',
    text: 'route: a.route.yaml\nruns:\n  - { date: 2026-10-11, runs: 10000000, finished: 1, tried: { lamp-hop: [5000000, 10000000] } }\n',
  },
  {
    name: 'a route that extends itself',
    kind: 'route',
    text: 'extends: a.route.yaml\ngame: A game\ncategory: any\n',
  },
  { name: 'a colon for every second character', kind: 'week', text: `${'a:'.repeat(50_000)}\n` },
  {
    name: 'question marks and tags',
    kind: 'route',
    text: `${'? '.repeat(5000)}\n${'!!map '.repeat(5000)}\n${'!<tag:x> '.repeat(2000)}\n`,
  },
  { name: 'a thousand documents', kind: 'week', text: '---\nroute: a.route.yaml\n'.repeat(1000) },
  {
    name: 'markers of five thousand merges',
    kind: 'practice',
    text: '<<<<<<< ours\na: 1\n=======\na: 2\n>>>>>>> theirs\n'.repeat(5000),
  },
  {
    name: 'half of a surrogate pair, everywhere',
    kind: 'route',
    text: route('  "\uD83C": { difficulty: 3, name: "\uDFEE", saves: 1 }\n'.repeat(50)),
  },
];
