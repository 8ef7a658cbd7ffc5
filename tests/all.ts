/**
 * Every check of the project, one after another, in one command: `npm test`.
 * Prints the counts at the end; the exit code is 0 only where nothing failed.
 */
import { spawn } from 'node:child_process';
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const unitReport = join(root, 'tests/output/unit.json');

interface Outcome {
  readonly code: number;
  readonly output: string;
}

/** Runs a command with its output passed through, and keeps what it printed. */
function run(title: string, command: string, ...args: string[]): Promise<Outcome> {
  console.log(`\n== ${title}`);
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] });
    let output = '';
    child.stdout.on('data', (chunk: Buffer) => {
      output += chunk.toString();
      process.stdout.write(chunk);
    });
    child.on('error', (error) => resolve({ code: 1, output: `${output}\n${error.message}` }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });
}

const bin = (name: string) => join(root, 'node_modules/.bin', name);
let passed = 0;
let failed = 0;

/** A check that counts as one. */
async function single(title: string, command: string, ...args: string[]): Promise<void> {
  const { code } = await run(title, command, ...args);
  if (code === 0) passed++;
  else failed++;
}

await mkdir(join(root, 'tests/output'), { recursive: true });
const generated = await run('types and validators from the schemas', bin('tsx'), 'schemas/generate.ts');
const built = generated.code === 0 ? await run('bundles', process.execPath, 'build.mjs') : generated;
if (built.code !== 0) {
  console.log('\nThe build failed; nothing was tested.\n0 passed, 1 failed');
  process.exit(1);
}

await single('lint', bin('eslint'), '.');
await single('format', bin('prettier'), '--check', '.');
for (const part of ['.', 'client/panel', 'client/practice', 'tests/panel', 'tests/practice']) {
  await single(`types of ${part}`, bin('tsc'), '-p', part, '--noEmit');
}

// The panel's tests stand on the same Chromium as the editor's; without it their failures say so one by one.
await single('programs of the system', bin('tsx'), 'tests/editor/host/bringPrograms.ts');

const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${unitReport}`];
const unit = await run(
  'unit, reference, language server and command line',
  bin('vitest'),
  'run',
  ...reporters,
);
const counts = JSON.parse(await readFile(unitReport, 'utf8').catch(() => '{}')) as Partial<
  Record<'numPassedTests' | 'numFailedTests', number>
>;
passed += counts.numPassedTests ?? 0;
// A suite that could not even start has no failed tests to count, but it has failed.
failed += Math.max(counts.numFailedTests ?? 0, unit.code === 0 ? 0 : 1);

const editor = await run('a real VS Code', bin('tsx'), 'tests/editor/run.ts');
const lines = [...editor.output.matchAll(/^(\d+) passed, (\d+) failed$/gm)];
const last = lines.at(-1);
passed += Number(last?.[1] ?? 0);
failed += Math.max(Number(last?.[2] ?? 0), editor.code === 0 && last ? 0 : 1);

console.log(`\n${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
