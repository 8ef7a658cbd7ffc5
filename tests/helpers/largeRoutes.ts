import { modelLimits } from '../../server/src/queries/modelLimits.ts';

/** Texts of files by name. */
export type Files = Readonly<Record<string, string>>;

const times = (count: number, make: (index: number) => string): string =>
  Array.from({ length: count }, (_, i) => make(i)).join('');

const technique = (i: number, rest: string): string =>
  `  t${i}: { difficulty: ${1 + (i % 10)}, saves: ${1 + (i % 7)}, ${rest} }\n`;

const head = 'game: Lanternfall\ncategory: any%\ntarget: "2:00:00"\nrestart: 10\nsegments:\n';

/** Days for practice, so that a week is planned. */
const week =
  'route: a.route.yaml\ndays: { mon: 60, tue: 60, wed: 60, thu: 60, fri: 60, sat: 100, sun: 60 }\n';

/** A route with one segment, and all techniques used in it. */
function oneSegment(uses: number, rest: (index: number) => string, use = (i: number) => `t${i}`): string {
  return `${head}  - id: one\n    time: 1200\n    techniques:\n${times(uses, (i) => `      - ${use(i)}\n`)}techniques:\n${times(uses, (i) => technique(i, rest(i)))}`;
}

const losing = (i: number): string => `loses: ${2 + (i % 5)}`;
const ending = (): string => 'ends_run: true';

/** A route with five techniques in each segment. */
function usualRoute(techniques: number, rest: (index: number) => string): string {
  const segments = times(Math.ceil(techniques / 5), (s) => {
    const own = Array.from({ length: 5 }, (_, k) => 5 * s + k).filter((i) => i < techniques);
    return `  - { id: s${s}, time: 60, techniques: [${own.map((i) => `t${i}`).join(', ')}] }\n`;
  });
  return `${head}${segments}techniques:\n${times(techniques, (i) => technique(i, rest(i)))}`;
}

const needing = (i: number): string => `${losing(i)}${i > 0 ? `, needs: [t${i - 1}]` : ''}`;

const manySegments = (count: number): string =>
  `${head}${times(count, (s) => `  - { id: s${s}, time: 60, spread: 1, techniques: [t${s % 10}] }\n`)}techniques:\n${times(10, (i) => technique(i, losing(i)))}`;

const muchLuck = (strokes: number): string =>
  `${head}  - id: one\n    time: 120\n    techniques: [t0]\n    luck:\n${times(strokes, (i) => `      - { chance: 0.${10 + (i % 80)}, adds: ${1 + (i % 9)} }\n`)}techniques:\n${technique(0, losing(0))}`;

const waysToMiss = (ways: number): string =>
  oneSegment(1, () => `miss: [${times(ways, (i) => `{ chance: ${1 / ways}, loses: ${i % 9} }, `)}]`);

const dayBefore = (days: number): string =>
  new Date(Date.UTC(2026, 10, 1) - 86_400_000 * days).toISOString().slice(0, 10);

const practice = (blocks: number): string =>
  `route: a.route.yaml\nsessions:\n${times(Math.ceil(blocks / 10), (i) => `  - start: ${dayBefore(Math.ceil(blocks / 10) - i)}T12:00\n    blocks:\n${times(10, (k) => `      - { technique: t${(i + 7 * k) % 50}, minutes: 20, landed: [${5 + (i % 20)}, 40] }\n`)}`)}`;

const runs = (count: number): string =>
  `route: a.route.yaml\nruns:\n${times(count, (i) => `  - { start: ${dayBefore(Math.ceil((count - i) / 20))}T20:${10 + (i % 20)}, total: "${40 + (i % 9)}:${10 + (i % 50)}.5", tried: { t${i % 50}: [${i % 2}, 1] } }\n`)}`;

/** A route of a size, in its files. */
export interface SizedRoute {
  readonly name: string;
  readonly files: Files;
}

/** A route that is too large in one way, and the beginning of the finding that says so. */
export interface TooLargeRoute extends SizedRoute {
  readonly finding: string;
}

const sized = (name: string, route: string): SizedRoute => ({
  name,
  files: { 'a.route.yaml': route, 'a.week.yaml': week },
});

const tooLarge = (name: string, finding: string, route: string): TooLargeRoute => ({
  ...sized(name, route),
  finding: `${finding} at most.`,
});

const tooManyUses = '`one` has 300 techniques in one segment. The model works with 100';

/** Each beyond one limit of the model: small files, some of which once took minutes. */
export const beyondLimits: readonly TooLargeRoute[] = [
  tooLarge('a segment with 300 uses', tooManyUses, oneSegment(300, losing)),
  tooLarge(
    'a segment with 300 uses at one spot',
    tooManyUses,
    oneSegment(300, losing, (i) => `{ use: t${i}, spot: gate }`),
  ),
  tooLarge('a segment with 300 uses that end the run', tooManyUses, oneSegment(300, ending)),
  tooLarge(
    'a chain of 2,000 needs',
    'The route has 2000 techniques. The model works with 1000',
    usualRoute(2000, needing),
  ),
  tooLarge(
    'a chain of 60 needs',
    '`t51` is at the end of a chain of more than 50 needs, each for the next. The model works with 50',
    usualRoute(60, needing),
  ),
  tooLarge('5,000 segments', 'The route has 5000 segments. The model works with 1000', manySegments(5000)),
  tooLarge(
    '2,000 strokes of luck',
    '`one` has 2000 strokes of luck. The model works with 20',
    muchLuck(2000),
  ),
  tooLarge('200 ways to miss', '`t0` has 200 ways to miss. The model works with 20', waysToMiss(200)),
  tooLarge(
    '3,000 techniques',
    'The route has 3000 techniques. The model works with 1000',
    usualRoute(3000, losing),
  ),
];

/** Each at one limit of the model, or close to it. */
export const withinLimits: readonly SizedRoute[] = [
  ...Object.entries({
    uses: oneSegment(modelLimits.usesInSegment, losing),
    'uses at one spot': oneSegment(modelLimits.usesInSegment, losing, (i) => `{ use: t${i}, spot: gate }`),
    'uses that end the run': oneSegment(modelLimits.usesInSegment, ending),
    needs: usualRoute(modelLimits.needsDepth + 1, needing),
    segments: manySegments(modelLimits.segments),
    luck: muchLuck(modelLimits.luckInSegment),
    techniques: usualRoute(modelLimits.techniques, losing),
  }).map(([name, route]) => sized(name, route)),
  {
    name: 'logs',
    files: {
      'a.route.yaml': usualRoute(50, losing),
      'a.week.yaml': week,
      'a.practice.yaml': practice(20_000),
      'a.runs.yaml': runs(20_000),
    },
  },
];
