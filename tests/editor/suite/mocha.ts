import { writeFile } from 'node:fs/promises';
import { format } from 'node:util';
import Mocha from 'mocha';

/** How many tests of a stage passed and failed; the suite writes this into a file for the process that started it. */
export interface Counts {
  readonly passed: number;
  readonly failed: number;
}

/** The variable that names the file into which a suite inside the editor writes its {@link Counts}. */
export const RESULT_VARIABLE = 'ROUTEWRIGHT_TEST_RESULT';

const TEST_LIMIT_MS = 300_000;

/**
 * Creates a mocha, whose `describe` and `it` the modules imported afterwards can call. A test marked `only` or `skip`
 * fails, so that no test is left out unnoticed.
 */
export function createMocha(): Mocha {
  const mocha = new Mocha({
    ui: 'bdd',
    reporter: 'spec',
    color: false,
    timeout: TEST_LIMIT_MS,
    forbidOnly: true,
    forbidPending: true,
  });
  // The editor prints texts without filling in their %s and %d.
  Mocha.reporters.Base.consoleLog = (...values: unknown[]) => console.log(format(...values));
  mocha.suite.emit('pre-require', globalThis, '', mocha);
  return mocha;
}

/** The counts of a run, and which tests failed. */
export interface Outcome extends Counts {
  /** Full titles of the failed tests and hooks. */
  readonly failures: readonly string[];
}

/** Runs the tests that were declared since {@link createMocha}. A stage without any test counts as one failure. */
export async function runDeclared(mocha: Mocha): Promise<Outcome> {
  let passed = 0;
  const failures: string[] = [];
  const failed = await new Promise<number>((resolve) => {
    const runner = mocha.run(resolve);
    runner.on('pass', () => {
      passed += 1;
    });
    runner.on('fail', (test: Mocha.Runnable) => failures.push(test.fullTitle()));
  });
  if (passed + failed > 0) return { passed, failed, failures };
  console.error('No test was found.');
  return { passed: 0, failed: 1, failures: ['No test was found.'] };
}

/**
 * Runs the declared tests inside the editor and writes their counts into the file that
 * {@link RESULT_VARIABLE} names.
 *
 * @throws Error where a test failed, which is how a suite tells the editor to end with a code other than 0
 */
export async function runInEditor(mocha: Mocha): Promise<void> {
  const { passed, failed } = await runDeclared(mocha);
  const counts: Counts = { passed, failed };
  const file = process.env[RESULT_VARIABLE];
  if (file !== undefined) await writeFile(file, JSON.stringify(counts));
  if (failed > 0) throw new Error(`${failed} of the tests in the editor failed.`);
}
