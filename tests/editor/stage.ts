import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { runTests } from '@vscode/test-electron';
import { bundleSuite, testFiles } from './bundle.ts';
import type { EditorSettings } from './host/settings.ts';
import { createMocha, RESULT_VARIABLE, runDeclared } from './suite/mocha.ts';
import type { Counts, Outcome } from './suite/mocha.ts';

/** The result of one stage. */
export interface StageResult extends Counts {
  /** 0 where no test failed; else the editor's own exit code where it gave one. */
  readonly exitCode: number;
  /** The tests that failed once and passed in a second run of their file. */
  readonly unsteady?: readonly string[];
}

/**
 * Test files about data that must never be lost: here one failure in many runs is a failure, so they do not run twice.
 */
const NEVER_RETRIED: ReadonlySet<string> = new Set(['crash.test.ts', 'practiceKills.test.ts']);
const OUTSIDE_LIMIT_MS = 600_000;

/** One folder of tests that run inside the editor. */
export interface EditorStage {
  readonly extensionPath: string;
  /** The folder with the test files. */
  readonly suiteFolder: string;
  /** The folder whose data files (*.yaml) are copied into the tests' workspace. */
  readonly samples: string;
  /** Further files of that workspace: texts by path. */
  readonly files: Readonly<Record<string, string>>;
  /** True: the workspace is opened in Restricted Mode. */
  readonly keepTrust: boolean;
  /** Path of the editor's executable; undefined: the desktop program is downloaded. */
  readonly executable: string | undefined;
  readonly settings: EditorSettings;
}

/** Runs one folder of tests inside the editor's extension host, on a fresh copy of the samples. */
export async function runEditorStage(stage: EditorStage): Promise<StageResult> {
  const folder = await mkdtemp(join(tmpdir(), 'editor-stage-'));
  const result = join(folder, 'result.json');
  let exitCode = 0;
  try {
    const suite = join(folder, 'suite.cjs');
    await bundleSuite(stage.suiteFolder, suite);
    const workspace = join(folder, 'workspace');
    await copyData(stage.samples, workspace);
    await writeFiles(workspace, stage.files);
    const userData = join(folder, 'user-data');
    await mkdir(join(userData, 'User'), { recursive: true });
    await writeFile(join(userData, 'User', 'settings.json'), JSON.stringify(stage.settings));
    await runTests({
      ...(stage.executable === undefined ? {} : { vscodeExecutablePath: stage.executable }),
      extensionDevelopmentPath: stage.extensionPath,
      extensionTestsPath: suite,
      extensionTestsEnv: { [RESULT_VARIABLE]: result },
      launchArgs: [
        workspace,
        `--user-data-dir=${userData}`,
        `--extensions-dir=${join(folder, 'extensions')}`,
        ...(stage.keepTrust ? ['--keep-trust'] : []),
      ],
    }).catch((error: unknown) => {
      exitCode = exitCodeOf(error);
    });
    const counts = await readCounts(result);
    if (counts !== undefined) return { ...counts, exitCode: counts.failed > 0 ? exitCode || 1 : exitCode };
    process.stderr.write(`The tests in ${stage.suiteFolder} did not come to their end.\n`);
    return { passed: 0, failed: 1, exitCode: exitCode || 1 };
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

/**
 * Runs, in this process, a folder of tests that start the editor themselves and use it from outside.
 *
 * A person waits and looks again; a program that drives a browser on a busy machine sometimes presses a key a moment
 * too early. So a file with a failure runs once more, in a new editor, and a test that passes only then is listed as
 * unsteady: it has to be repaired, and a test that always fails is never hidden by this. A file of {@link NEVER_RETRIED} has no
 * second run.
 */
export async function runOutsideStage(folder: string): Promise<StageResult> {
  let [passed, failed] = [0, 0];
  const unsteady: string[] = [];
  for (const file of await testFiles(folder)) {
    const begun = Date.now();
    let outcome = await runFile(file);
    if (outcome.failed > 0 && !NEVER_RETRIED.has(basename(file))) {
      process.stdout.write(`Once more, for ${outcome.failed} that failed: ${basename(file)}\n`);
      const first = outcome.failures;
      outcome = await runFile(file, '?again');
      unsteady.push(...first.filter((title) => !outcome.failures.includes(title)));
    }
    passed += outcome.passed;
    failed += outcome.failed;
    process.stdout.write(`${basename(file)} took ${((Date.now() - begun) / 1000).toFixed(1)} s\n`);
  }
  return { passed, failed, unsteady, exitCode: failed > 0 ? 1 : 0 };
}

async function runFile(file: string, query = ''): Promise<Outcome> {
  const mocha = createMocha();
  mocha.timeout(OUTSIDE_LIMIT_MS);
  await import(pathToFileURL(file).href + query);
  return runDeclared(mocha);
}

/** Copies the data files of a samples folder, without the scripts that made them and the folders of other runners. */
export async function copyData(samples: string, workspace: string): Promise<void> {
  const isData = (source: string): boolean => source === samples || basename(source).endsWith('.yaml');
  await cp(samples, workspace, { recursive: true, filter: isData });
}

/** Writes texts into a folder by their paths in it. */
export async function writeFiles(folder: string, files: Readonly<Record<string, string>>): Promise<void> {
  for (const [name, text] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), text);
  }
}

function exitCodeOf(error: unknown): number {
  const code = typeof error === 'object' && error !== null && 'code' in error ? error.code : undefined;
  if (typeof code === 'number' && code !== 0) return code;
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  return 1;
}

async function readCounts(file: string): Promise<Counts | undefined> {
  let counts: unknown;
  try {
    counts = JSON.parse(await readFile(file, 'utf8'));
  } catch {
    return undefined;
  }
  if (typeof counts !== 'object' || counts === null) return undefined;
  if (!('passed' in counts && 'failed' in counts)) return undefined;
  return { passed: Number(counts.passed), failed: Number(counts.failed) };
}
