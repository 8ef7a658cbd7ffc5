import { examplePool } from '../../server/src/rules/engine/examplePool.ts';
import { exampleRoute } from '../../server/src/rules/engine/exampleFiles.ts';
import type { Input } from './seeds.ts';

/** A text that can be made as long as one likes: twice as much must not take much more than twice as long. */
export interface Shape {
  readonly name: string;
  readonly kind: Input['kind'];
  /** How many repeats make some 100 to 400 kB. */
  readonly repeats: number;
  readonly text: (repeats: number) => string;
}

const times = (count: number, make: (index: number) => string): string =>
  Array.from({ length: count }, (_, i) => make(i)).join('');
const header = 'game: A game\ncategory: any\n';
const segment = `${header}segments:\n  - id: one\n    time: 60\n`;
const tailed = (techniques: string): string => `${segment}techniques:\n${techniques}`;
const inRoute = (name: string, repeats: number, text: Shape['text']): Shape => ({
  name,
  kind: 'route',
  repeats,
  text,
});

/** Each asks of the readers, the rules or the library of YAML what could be done once too often. */
export const shapes: readonly Shape[] = [
  inRoute(
    'conflict markers that never end',
    2000,
    (n) => header + '<<<<<<< a\n'.repeat(n) + '||||||| b\n'.repeat(n) + '=======\n'.repeat(n),
  ),
  inRoute('merge conflicts', 2000, (n) =>
    tailed('<<<<<<< a\n  x: 1\n||||||| b\n=======\n  x: 2\n>>>>>>> c\n'.repeat(n)),
  ),
  inRoute('unknown keys of one entry', 8000, (n) => segment + times(n, (i) => `    wrong${i}: 1\n`)),
  inRoute('unknown keys of the file', 8000, (n) => header + times(n, (i) => `wrong${i}: 1\n`)),
  inRoute('unknown keys on one line', 8000, (n) => tailed(`  a: { ${times(n, (i) => `wrong${i}: 1, `)} }\n`)),
  inRoute(
    'wrong values in braces on one line',
    4000,
    (n) => `${segment}techniques: { ${times(n, (i) => `t${i}: { difficulty: 99, saves: x }, `)} }\n`,
  ),
  inRoute(
    'spots of a thousand letters',
    100,
    (n) =>
      segment + '    techniques:\n' + times(n, (i) => `      - { use: a, spot: s${i}${'x'.repeat(1000)} }\n`),
  ),
  inRoute('ids of nine hundred letters', 200, (n) =>
    tailed(
      times(n, (i) => `  a${i}${'x'.repeat(900)}: { difficulty: 3, needs: [b${i}${'x'.repeat(900)}] }\n`),
    ),
  ),
  inRoute('lines that are each a space shallower', 1500, (n) =>
    tailed(times(n, (i) => `${' '.repeat(n - i + 1)}a${i}: { difficulty: 3 }\n`)),
  ),
  {
    name: 'dashes that are each a space shallower',
    kind: 'runs',
    repeats: 1500,
    text: (n) => `route: a.route.yaml\nruns:\n${times(n, (i) => `${' '.repeat(n - i + 1)}- { runs: 3 }\n`)}`,
  },
  inRoute(
    'keys with a thousand spaces',
    400,
    (n) => header + times(n, (i) => `a${i}${' '.repeat(1000)}: 1\n`),
  ),
  inRoute('words with a thousand spaces', 400, (n) =>
    tailed(times(n, (i) => `  a${i}${' '.repeat(1000)}x\n`)),
  ),
  inRoute('one key with many spaces', 100_000, (n) => `${header}a${' '.repeat(n)}: 1\n`),
  inRoute('blanks on one line', 200_000, (n) => `${header}notes: a${' '.repeat(n)}b\n`),
  inRoute('tabs on one line', 200_000, (n) => `${header}notes: a${'\t'.repeat(n)}b\n`),
  inRoute('lines of blanks', 20_000, (n) => header + '     \n'.repeat(n)),
  inRoute('broken and wrong entries in turn', 3000, (n) =>
    tailed(times(n, (i) => `  b${i}: { difficulty: 99 }\n  c${i}: [\n`)),
  ),
  inRoute('comments that allow what is not found', 3000, (n) =>
    tailed(
      times(n, (i) => `  # allow technique-unused: ${i}\n  t${i}: { difficulty: 3, saves: 1, loses: 1 }\n`),
    ),
  ),
  inRoute('comments that allow, one above the other', 5000, (n) =>
    tailed(`${'  # allow technique-unused\n'.repeat(n)}  t: { difficulty: 3, saves: 1, loses: 1 }\n`),
  ),
  inRoute('a comment that allows, with blanks', 100_000, (n) => `${header}# allow a-b: ${' '.repeat(n)}x\n`),
  inRoute('unknown needs', 4000, (n) =>
    tailed(times(n, (i) => `  t${i}: { difficulty: 3, saves: 1, loses: 1, needs: [nothing-${i}] }\n`)),
  ),
  inRoute('unknown needs in a text that is broken', 4000, (n) =>
    tailed(
      `${times(n, (i) => `  t${i}: { difficulty: 3, saves: 1, loses: 1, needs: [nothing-${i}] }\n`)}  t: ]\n`,
    ),
  ),
  inRoute('one technique many times', 5000, (n) => tailed('  t: { difficulty: 3, saves: 1 }\n'.repeat(n))),
  inRoute('needs in one circle', 2000, (n) =>
    tailed(times(n, (i) => `  t${i}: { difficulty: 3, saves: 1, loses: 1, needs: [t${(i + 1) % n}] }\n`)),
  ),
  inRoute('anchors', 3000, (n) =>
    tailed(times(n, (i) => `  t${i}: &x${i} { difficulty: 3, saves: 1, loses: 1 }\n`)),
  ),
  inRoute('aliases', 5000, (n) => `${header}x-a: &a 1\nx-b: [${'*a, '.repeat(n)}]\n`),
  inRoute('open brackets', 50_000, (n) => `segments: ${'['.repeat(n)}`),
  inRoute('brackets in a row', 30_000, (n) => `${header}x-a: [${'[], '.repeat(n)}]\n`),
  inRoute('open quotes', 10_000, (n) => tailed(times(n, (i) => `  t${i}: "a\n`))),
  inRoute('a quote that is not closed', 20_000, (n) => `${header}notes: "${'words and more\n  '.repeat(n)}`),
  inRoute('documents', 10_000, (n) => `---\n${header}`.repeat(n)),
  inRoute('lone carriage returns', 20_000, (n) => header + 'x-a: 1\r'.repeat(n)),
  inRoute('control characters', 50_000, (n) => `${header}notes: ${'\u0007'.repeat(n)}\n`),
  inRoute('comments', 10_000, (n) => header + '# a comment\n'.repeat(n)),
  inRoute('comment marks on one line', 100_000, (n) => `${header}# ${'# '.repeat(n)}\n`),
  inRoute('dashes on one line', 50_000, (n) => `${header}segments:\n  ${'- '.repeat(n)}x\n`),
  inRoute('colons on one line', 50_000, (n) => `${header}${'a:'.repeat(n)}\n`),
  inRoute('question marks', 20_000, (n) => `${header}${'? '.repeat(n)}\n`),
  inRoute('segments', 1500, (n) => `${header}segments:\n${times(n, (i) => `  - { id: s${i}, time: 60 }\n`)}`),
  {
    name: 'sessions',
    kind: 'practice',
    repeats: 1500,
    text: (n) =>
      `route: a.route.yaml\nsessions:\n${times(n, (i) => `  - start: ${dayOf(i)}T19:30\n    blocks:\n      - { technique: crate-vault, minutes: 20, landed: [20, 51] }\n`)}`,
  },
  {
    name: 'sessions in the wrong order, of things unknown',
    kind: 'practice',
    repeats: 1500,
    text: (n) =>
      `route: a.route.yaml\nsessions:\n${times(n, (i) => `  - start: ${dayOf(n - i)}T19:30\n    blocks:\n      - { technique: nothing-${i}, minutes: 20, landed: [60, 51] }\n`)}`,
  },
  {
    name: 'blocks of one session',
    kind: 'practice',
    repeats: 2000,
    text: (n) =>
      `route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n${'      - { technique: crate-vault, minutes: 20, tape: lmlml, id: same }\n'.repeat(n)}`,
  },
  {
    name: 'runs',
    kind: 'runs',
    repeats: 1500,
    text: (n) =>
      `route: a.route.yaml\nruns:\n${times(n, (i) => `  - { start: ${dayOf(i)}T20:00, times: { harbor: 91.5, nowhere-${i}: 4 }, tried: { crate-vault: [0, 1] } }\n`)}`,
  },
  {
    name: 'states, pins and times of things unknown',
    kind: 'week',
    repeats: 4000,
    text: (n) =>
      `route: a.route.yaml\npin: [${times(n, (i) => `p${i}, `)}]\nstates:\n${times(n, (i) => `  s${i}: learning\n`)}`,
  },
  {
    name: 'techniques of a pool that no route has',
    kind: 'pool',
    repeats: 150,
    text: (n) => poolOf(Object.fromEntries(Array.from({ length: n }, (_, i) => [`p${i}`, 3]))),
  },
  {
    name: 'techniques of a pool of which nothing is said',
    kind: 'pool',
    repeats: 5000,
    text: (n) => poolOf({}).replace(' {}', `\n${times(n, (i) => `  p${i}: {}\n`)}`),
  },
  {
    name: 'numbers in a list of a pool',
    kind: 'pool',
    repeats: 20_000,
    text: (n) => poolOf({ 'crate-vault': 3 }).replace('quarter: [', `quarter: [${'-1, '.repeat(n)}`),
  },
  {
    name: 'runners of a pool, each many times',
    kind: 'pool',
    repeats: 10_000,
    text: (n) =>
      poolOf(
        { 'crate-vault': 9 },
        Array.from({ length: n }, (_, i) => `"a0000000000${i % 10}"`),
      ),
  },
];

function poolOf(counted: Readonly<Record<string, number>>, runners?: readonly string[]): string {
  return `route: a.route.yaml\n${examplePool({ counted, ...(runners && { runners }) })}`;
}

function dayOf(index: number): string {
  return new Date(Date.UTC(1990, 0, 1 + index)).toISOString().slice(0, 10);
}

/** The files that a shape is asked of: itself, and a route that it belongs to where it is none. */
export function filesOf(
  { kind, text }: Pick<Shape, 'kind' | 'text'>,
  repeats: number,
): Record<string, string> {
  const own = { [`a.${kind}.yaml`]: text(repeats) };
  return kind === 'route' ? own : { 'a.route.yaml': exampleRoute, ...own };
}
