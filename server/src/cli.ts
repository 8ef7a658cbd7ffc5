#!/usr/bin/env node
import { argv, cwd, env, stderr, stdout } from 'node:process';
import type { WriteStream } from 'node:tty';
import { runCommandLine } from './cli/run.ts';
import type { Io, OutputSink } from './cli/terminal/io.ts';
import { momentNow, systemClock } from './journal/clock.ts';
import { type Failure, toFailure } from './journal/failure.ts';
import { sanitizeOutput } from './safeText/terminal.ts';

/**
 * The entry point of the command line. Only `serve` loads the language server, so that the other commands start fast.
 */
async function serve(): Promise<void> {
  await import('./main.ts');
}

function sink(stream: WriteStream): OutputSink {
  let failure: Failure | undefined;
  let lastWrite: Promise<void> | undefined;
  stream.on('error', (error) => (failure ??= toFailure(error)));
  return {
    write: (text) => {
      lastWrite = new Promise((resolve) => stream.write(text, () => resolve()));
    },
    isTTY: Boolean(stream.isTTY),
    get columns() {
      return stream.isTTY ? stream.columns : undefined;
    },
    async lost() {
      await lastWrite;
      // A program that reads the output may stop reading early, as `head` does: that is no failure.
      return failure?.code === 'EPIPE' ? undefined : failure?.reason;
    },
  };
}

declare const ROUTEWRIGHT_BUILD: string | undefined;

const io: Io = {
  cwd: cwd(),
  env,
  stdout: sink(stdout),
  stderr: sink(stderr),
  // Written in by the bundler.
  ...(typeof ROUTEWRIGHT_BUILD === 'string' && { build: ROUTEWRIGHT_BUILD }),
  now: () => momentNow(systemClock),
};

try {
  process.exitCode = await runCommandLine(argv.slice(2), io, serve);
} catch (error) {
  // A fault of the program, not of its input: print it with how to report it, on stderr, so that nobody takes it for an
  // answer.
  const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
  const whole = `Something went wrong inside routewright; please report it with these lines:\n${what}\n`;
  stderr.write(sanitizeOutput(whole, false));
  process.exitCode = 2;
}
