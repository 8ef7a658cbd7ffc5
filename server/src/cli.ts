#!/usr/bin/env node
import { argv, cwd, env, exit, stderr, stdout } from 'node:process';
import type { WriteStream } from 'node:tty';
import { runCommandLine } from './cli/run.ts';
import type { Io, OutputSink } from './cli/terminal/io.ts';
import { momentNow, systemClock } from './journal/clock.ts';

/**
 * The entry point of the command line. Only `serve` loads the language server, so that the other commands start fast.
 */
async function serve(): Promise<void> {
  await import('./main.ts');
}

const sink = (stream: WriteStream): OutputSink => ({
  write: (text) => void stream.write(text),
  isTTY: Boolean(stream.isTTY),
  get columns() {
    return stream.isTTY ? stream.columns : undefined;
  },
});

const io: Io = {
  cwd: cwd(),
  env,
  stdout: sink(stdout),
  stderr: sink(stderr),
  now: () => momentNow(systemClock),
};

// The program that reads the output may stop reading early, as `head` does.
stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') exit(0);
  throw error;
});

try {
  process.exitCode = await runCommandLine(argv.slice(2), io, serve);
} catch (error) {
  // A fault of the program, not of its input: print it with how to report it, on stderr, so that nobody takes it for an
  // answer.
  const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
  stderr.write(`Something went wrong inside routewright; please report it with these lines:\n${what}\n`);
  process.exitCode = 2;
}
