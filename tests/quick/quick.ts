/**
 * A quick look at what was changed: `npm run quick [-- --budget SECONDS]`.
 *
 * Types of the parts that can be concerned, lint and layout of the changed files, the rooms, and the tests from which
 * the changed files can be reached, the nearest first, as many as fit into the budget. What is left out is named;
 * `npm test` runs all of it. Changed is what differs from the last commit that is shared with the branch followed.
 */
import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { secondsOf } from '../durations.ts';
import { cacheFolder, layoutOf, typedParts, typesOf } from '../runner/checks.ts';
import { runStages, type Stage } from '../runner/stage.ts';
import { timeTable } from '../runner/timeTable.ts';
import { changedFiles, projectFiles } from './changed.ts';
import { chooseTests } from './choose.ts';
import { reachedBy, readReferences } from './reach.ts';

const root = join(import.meta.dirname, '../..');
const begun = Date.now();
const { values } = parseArgs({ options: { budget: { type: 'string', default: '6' } } });

/** A change of one of these can be felt everywhere. */
const everywhere =
  /^(package(-lock)?\.json|tsconfig\.json|vitest\.config\.ts|eslint\.config\.js|tests\/order\.ts)$/;
const isTest = /^tests\/.*\.test\.ts$/;
/** Tests that run inside an editor or drive one. */
const ofEditor = /^tests\/editor\/(suite|person|launcher|package|web)\//;

const bin = (name: string): string => join(root, 'node_modules/.bin', name);

const [changed, files] = await Promise.all([changedFiles(root), projectFiles(root)]);
const steps = reachedBy(readReferences(root, files), changed.files);
const concerned = [...steps.keys()];
const all = changed.files.some((path) => everywhere.test(path));
const isConcerned = (part: string): boolean => all || concerned.some((path) => path.startsWith(`${part}/`));
const isTyped = (path: string): boolean => /\.(?:[cm]?ts|json)$/.test(path);
const isLinted = (path: string): boolean => /\.[cm]?[jt]s$/.test(path);

const since = changed.since.slice(0, 9);
console.log(`${changed.files.length + changed.gone.length} files changed since ${since}`);
const tests = new Map([...steps].filter(([path]) => isTest.test(path) && !ofEditor.test(path)));
const { run, leftOut } = chooseTests(tests, secondsOf, Number(values.budget));
const editorTests = concerned.filter((path) => isTest.test(path) && ofEditor.test(path));

await mkdir(cacheFolder, { recursive: true });
const isGenerated = existsSync(join(root, 'server/src/generated'));
const generate: readonly Stage[] =
  !isGenerated || changed.files.some((path) => path.startsWith('schemas/'))
    ? [{ title: 'generate', command: bin('tsx'), args: ['schemas/generate.ts'] }]
    : [];
const linted = changed.files.filter(isLinted);
const typed = [...changed.files, ...changed.gone].some(isTyped);
const roomsConcerned = [...changed.files, ...changed.gone].some((path) =>
  /^(client|server)\/|cruiser/.test(path),
);

/** A stage where there is something for it to do. */
const where = (isWanted: boolean, title: string, program: string, ...args: readonly string[]): Stage[] =>
  isWanted ? [{ title, command: bin(program), args }] : [];
const lintCache = join(cacheFolder, 'lint');

// Two at a time, what takes longest first.
const outcomes = [
  ...(await runStages(generate, root, 1)),
  ...(await runStages(
    [
      ...(typed ? [typesOf('.')] : []),
      ...where(
        linted.length > 0,
        'lint',
        'eslint',
        '--no-warn-ignored',
        '--cache',
        '--cache-location',
        lintCache,
        ...linted,
      ),
      ...where(run.length > 0, 'tests', 'vitest', 'run', '--reporter=dot', '--maxWorkers=1', ...run),
      ...where(roomsConcerned, 'rooms', 'tsx', 'tests/architecture/rooms.ts', '--short'),
      ...(typed ? typedParts.filter(isConcerned).map(typesOf) : []),
      ...(changed.files.length > 0 ? [layoutOf(changed.files)] : []),
    ],
    root,
    2,
  )),
];

const list = (paths: readonly string[]): string =>
  paths.map((path) => path.replace(/^tests\//, '')).join(', ');
console.log(`\n${run.length} test files were run, the nearest to the change first.`);
if (leftOut.length > 0) console.log(`left out: ${list(leftOut)}`);
if (editorTests.length > 0) console.log(`left out, in an editor: ${list(editorTests)}`);
if (outcomes.length > 0) {
  console.log('\nWhere the time went');
  for (const line of timeTable(outcomes, (Date.now() - begun) / 1000)) console.log(line);
}
const bad = outcomes.filter(({ failed }) => failed > 0).map(({ title }) => title);
console.log(bad.length > 0 ? `\nFailed: ${bad.join(', ')}` : '\nNothing failed.');
process.exitCode = bad.length > 0 ? 1 : 0;
