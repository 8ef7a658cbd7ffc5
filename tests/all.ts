/**
 * Every check of the project in one command: `npm test [-- --one-by-one]`.
 *
 * What starts an editor waits for it most of the time, so those stages run one after another beside the others, of which
 * two run at a time, the longest first; with --one-by-one nothing runs beside anything. Prints at the end where the time
 * went and the counts; the exit code is 0 only where nothing failed.
 */
import { mkdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { layoutOf, typedParts, typesOf } from './runner/checks.ts';
import { runStages, type Counts, type Stage } from './runner/stage.ts';
import { timeTable } from './runner/timeTable.ts';

const root = join(import.meta.dirname, '..');
/** The projects of vitest.config.ts: each is a stage. */
const projects = ['functions', 'processes'] as const;
const reportOf = (project: string): string => join(root, `tests/output/${project}.json`);
const sideBySide = !process.argv.includes('--one-by-one');
const begun = Date.now();

const bin = (name: string): string => join(root, 'node_modules/.bin', name);
const tsx = (title: string, ...args: string[]): Stage => ({ title, command: bin('tsx'), args });

const first: readonly Stage[] = [
  tsx('types and validators from the schemas', 'schemas/generate.ts'),
  { title: 'bundles', command: process.execPath, args: ['build.mjs'] },
  // The panel's tests stand on the same Chromium as the editor's; without it their failures say so one by one.
  tsx('programs of the system', 'tests/editor/host/bringPrograms.ts'),
];

/** Counts of the JSON that vitest writes. A suite that could not even start has no failed tests to count. */
async function vitestCounts(report: string): Promise<Counts> {
  const counts = JSON.parse(await readFile(report, 'utf8').catch(() => '{}')) as Partial<
    Record<'numPassedTests' | 'numFailedTests', number>
  >;
  return { passed: counts.numPassedTests ?? 0, failed: counts.numFailedTests ?? 0 };
}

// One worker a stage: another stage has the other core.
const [functions, processes] = projects.map((project): Stage => {
  const report = reportOf(project);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  return {
    title: `vitest: ${project}`,
    command: bin('vitest'),
    args: ['run', `--project=${project}`, '--maxWorkers=1', ...reporters],
    counts: () => vitestCounts(report),
  };
}) as [Stage, Stage];

/** The counts of a stage of editor tests stand in its last line; none where it did not come to its end. */
function editorCounts(output: string): Counts {
  const last = [...output.matchAll(/^(\d+) passed, (\d+) failed$/gm)].at(-1);
  return last ? { passed: Number(last[1]), failed: Number(last[2]) } : { passed: 0, failed: 1 };
}

const editor = (name: string): Stage => ({
  ...tsx(`editor: ${name}`, 'tests/editor/run.ts', name, '--built'),
  counts: editorCounts,
});

const editors = ['person', 'launcher', 'web', 'package', 'trusted', 'restricted'].map(editor);
const others: readonly Stage[] = [
  functions,
  processes,
  { title: 'lint', command: bin('eslint'), args: ['.'] },
  layoutOf(['.']),
  tsx('rooms', 'tests/architecture/rooms.ts'),
  ...['.', ...typedParts].map(typesOf),
];

await mkdir(join(root, 'tests/output'), { recursive: true });
for (const project of projects) await rm(reportOf(project), { force: true });
const before = await runStages(first, root, 1);
const [generated, bundled] = before;
if (generated!.failed + bundled!.failed > 0) {
  console.log('\nThe build failed; nothing was tested.\n0 passed, 1 failed');
  process.exit(1);
}

const outcomes = sideBySide
  ? (await Promise.all([runStages(editors, root, 1), runStages(others, root, 2)])).flat()
  : await runStages([...editors, ...others], root, 1);

const unsteady = outcomes.flatMap(
  ({ output }) => /^Unsteady, [^\n]*\n((?: {2}.*\n)+)/m.exec(output)?.[1] ?? [],
);
if (unsteady.length > 0) console.log(`\nUnsteady, passed in a second run only:\n${unsteady.join('')}`);
const bad = outcomes.filter(({ failed }) => failed > 0).map(({ title }) => title);
if (bad.length > 0) console.log(`\nFailed in: ${bad.join('; ')}`);
console.log('\nWhere the time went');
for (const line of timeTable([...before, ...outcomes], (Date.now() - begun) / 1000)) console.log(line);

// The build is there for the others; that its programs could be had is a check.
const counted = [before[2]!, ...outcomes];
const sum = (of: (counts: Counts) => number): number => counted.reduce((total, one) => total + of(one), 0);
const failed = sum((one) => one.failed);
console.log(`\n${sum((one) => one.passed)} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
