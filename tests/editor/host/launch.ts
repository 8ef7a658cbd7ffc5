import { setTimeout as setTimeoutPromise } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { parseArguments } from './arguments.ts';
import type { LaunchArguments } from './arguments.ts';
import { installHost } from './install.ts';
import { describeFailure, HostProblem } from './problem.ts';
import { openSession } from './session.ts';
import type { Session } from './session.ts';

/** Exit codes of the launcher besides those of the test suite that it runs. */
const FAILED = 1;
const WRONG_USE = 2;
/** The code that the program "timeout" uses too. */
const TIMED_OUT = 124;
const CLOSE_LIMIT_MS = 15_000;

/** Messages of the workbench about itself, which arrive between the lines that the test suite prints. */
const WORKBENCH_NOTES: readonly RegExp[] = [
  /^(Resolving|Resolved) connection token|^Creating a socket|^(Ignoring fetching|Updating) additional/,
  /^ChatSessionStore: |^Creation of workbench contribution /,
  /^\[(Service Worker|reconnection-grace-time|[A-Z][A-Za-z:]+)\] /,
];

/** How a launch ended. */
interface Ending {
  readonly code: number;
  /** Printed on standard error. */
  readonly sentence?: string;
}

/**
 * Starts the editor host as the desktop program would be started: opens the workspace with the extension, runs the test
 * suite, prints its console output, and ends with its exit code. Without `--extensionTestsPath` the workbench stays
 * open until the time limit or a signal.
 */
async function main(argv: readonly string[]): Promise<number> {
  const parsed = parseArguments(argv);
  if (!parsed.ok) {
    process.stderr.write(`${parsed.problem}\n`);
    return WRONG_USE;
  }
  const launchArguments = parsed.value;
  let end: (ending: Ending) => void = () => undefined;
  const ended = new Promise<Ending>((resolve) => {
    end = resolve;
  });
  for (const [signal, number] of [
    ['SIGHUP', 1],
    ['SIGINT', 2],
    ['SIGTERM', 15],
  ] as const) {
    process.on(signal, () => end({ code: 128 + number, sentence: `Ended by ${signal}.` }));
  }
  const limit = setTimeout(
    () => end({ code: TIMED_OUT, sentence: `The editor was not done after ${launchArguments.timeout} s.` }),
    launchArguments.timeout * 1000,
  );
  const opening = open(launchArguments, end);
  opening.catch((failure: unknown) => end({ code: FAILED, sentence: describeFailure(failure) }));
  const ending = await ended;
  clearTimeout(limit);
  if (ending.sentence !== undefined) process.stderr.write(`${ending.sentence}\n`);
  // A session that is still being opened is closed too, as soon as it is open or has failed to open. An installation
  // that a signal interrupts is not waited for: it leaves nothing under the final name.
  const closed = opening.then((session) => session.close()).catch(() => undefined);
  await Promise.race([closed, setTimeoutPromise(CLOSE_LIMIT_MS)]);
  return ending.code;
}

async function open(launchArguments: LaunchArguments, end: (ending: Ending) => void): Promise<Session> {
  const host = await installHost();
  if (
    launchArguments.extensionDevelopmentPaths.length === 0 &&
    launchArguments.extensionTestsPath !== undefined
  ) {
    throw new HostProblem('--extensionTestsPath also needs --extensionDevelopmentPath.');
  }
  const session = await openSession({
    host,
    extensionPaths: launchArguments.extensionDevelopmentPaths,
    testsPath: launchArguments.extensionTestsPath,
    workspace: launchArguments.workspace,
    userDataDir: launchArguments.userDataDir,
    extensionsDir: launchArguments.extensionsDir,
    trustEverything: launchArguments.trustEverything,
    // Dialogs cannot be shown during tests, so an untrusted workspace must not begin with one.
    settings:
      launchArguments.extensionTestsPath === undefined
        ? {}
        : { 'security.workspace.trust.startupPrompt': 'never' },
    prepare: (page) => listen(page, end),
  });
  void session.died.then((sentence) => end({ code: FAILED, sentence }));
  return session;
}

/** Provides the two functions with which the workbench reports what a test suite prints and how it ended. */
async function listen(page: Page, end: (ending: Ending) => void): Promise<void> {
  await page.exposeFunction('codeAutomationLog', (kind: string, values: readonly unknown[]) => {
    const text = values.map(String).join(' ');
    if (WORKBENCH_NOTES.some((note) => note.test(text))) return;
    const stream = kind === 'error' || kind === 'warn' ? process.stderr : process.stdout;
    stream.write(`${text}\n`);
  });
  await page.exposeFunction('codeAutomationExit', (code: number) => end({ code }));
}

process.exitCode = await main(process.argv.slice(2));
process.exit();
