/**
 * Runs the editor tests: `npx tsx tests/editor/run.ts [STAGE ...] [--built] [--host NAME] [--editor PATH|download]`.
 *
 * The stages are `launcher`, which checks the editor host's own launcher; `trusted` and `restricted`, which run inside
 * the editor's extension host; `person`, which uses the editor through its window; `web`, which does so with an editor
 * that runs in the browser alone, and with the extension as it is shipped; and `package`, with the extension installed
 * from its VSIX file. Without a name, all of them run. The editor is the host of tests/editor/host, which is installed
 * where it is missing: the oldest VS Code that the extension supports, or with `--host newest` the newest that the
 * registry has. `--built` uses the existing bundles. `--editor` runs the trusted stage on a desktop program instead.
 * Tests that failed and passed in a second run are listed as unsteady at the end. The last line says how many tests
 * passed and failed, and the exit code is that of the first stage that failed.
 */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { lastLines, runCommand } from './host/command.ts';
import { installHost } from './host/install.ts';
import { describeFailure, HostProblem } from './host/problem.ts';
import { HOST_VARIABLE, readHostName } from './host/versions.ts';
import { runEditorStage, runOutsideStage } from './stage.ts';
import type { StageResult } from './stage.ts';
import { TODAY } from './suite/support/commandLine.ts';
import { plantedFiles } from './suite/support/planted.ts';

const ROOT = path('../..');
const STAGES = ['launcher', 'trusted', 'restricted', 'person', 'web', 'package'] as const;
type StageName = (typeof STAGES)[number];
const BUILD_LIMIT_MS = 5 * 60_000;

interface Wish {
  readonly stages: readonly StageName[];
  /** Path of the editor's executable; undefined: the desktop program is downloaded. */
  readonly executable: string | undefined;
  readonly desktop: boolean;
  /** Whether to use the existing bundles. */
  readonly built: boolean;
}

function path(relative: string): string {
  return fileURLToPath(new URL(relative, import.meta.url));
}

function readWish(argv: readonly string[]): Wish {
  const stages: StageName[] = [];
  let executable: string | undefined = path('./host/code');
  let desktop = false;
  let built = false;
  for (let index = 0; index < argv.length; index += 1) {
    const word = argv[index] ?? '';
    const stage = STAGES.find((name) => name === word);
    if (stage !== undefined) stages.push(stage);
    else if (word === '--built') built = true;
    else if (word === '--host' && argv[index + 1] !== undefined) {
      index += 1;
      // In the environment, so that every process of a stage reads it.
      process.env[HOST_VARIABLE] = readHostName(argv[index] ?? '');
    } else if (word === '--editor' && argv[index + 1] !== undefined) {
      index += 1;
      const editor = argv[index] ?? '';
      if (editor !== 'download' && !existsSync(editor))
        throw new HostProblem(`There is no program ${editor}.`);
      executable = editor === 'download' ? undefined : editor;
      desktop = true;
    } else
      throw new HostProblem(
        `"${word}" is not understood. Stages: ${STAGES.join(', ')}; --built; --host oldest|newest; --editor PATH|download.`,
      );
  }
  if (!desktop) return { stages: stages.length > 0 ? stages : STAGES, executable, desktop, built };
  if (stages.some((name) => name !== 'trusted')) {
    throw new HostProblem('With --editor only the stage "trusted" can run: the others need the editor host.');
  }
  return { stages: ['trusted'], executable, desktop, built };
}

async function buildExtension(): Promise<void> {
  const done = await runCommand(process.execPath, ['build.mjs'], { cwd: ROOT, limit: BUILD_LIMIT_MS });
  if (done.code !== 0) {
    throw new HostProblem(`The extension could not be built. The last lines:\n${lastLines(done.output, 20)}`);
  }
}

function runStage(name: StageName, executable: string | undefined): Promise<StageResult> {
  if (name === 'launcher' || name === 'person' || name === 'web' || name === 'package')
    return runOutsideStage(path(`./${name}`));
  return runEditorStage({
    extensionPath: ROOT,
    suiteFolder: path(`./suite/${name}`),
    samples: path('../../samples'),
    files: plantedFiles(),
    keepTrust: name === 'restricted',
    executable,
    settings: { 'routewright.today': TODAY },
  });
}

async function main(argv: readonly string[]): Promise<number> {
  const wish = readWish(argv);
  if (!wish.built) await buildExtension();
  if (!wish.desktop) {
    const { editorVersion } = await installHost();
    process.stdout.write(`The editor is VS Code ${editorVersion}.\n`);
  }
  let passed = 0;
  let failed = 0;
  let exitCode = 0;
  const unsteady: string[] = [];
  for (const name of wish.stages) {
    process.stdout.write(`\nEditor tests: ${name}\n`);
    const result = await runStage(name, wish.executable);
    passed += result.passed;
    failed += result.failed;
    exitCode ||= result.exitCode;
    unsteady.push(...(result.unsteady ?? []));
  }
  if (unsteady.length > 0)
    process.stdout.write(
      `\nUnsteady, passed in a second run only:\n${unsteady.map((title) => `  ${title}\n`).join('')}`,
    );
  process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
  return exitCode;
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
