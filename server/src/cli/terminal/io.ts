import type { Moment } from '../../text/calendar.ts';
import { wrapText } from '../../text/wrap.ts';
import { safeJson } from '../../safeText/json.ts';
import { sanitizeLine, sanitizeOutput } from '../../safeText/terminal.ts';
import { asciiText } from './layout/asciiText.ts';
import { type ColorChoice, isStyled, type Screen, screenOf } from './layout/screen.ts';

/** A stream that a command writes to. */
export interface OutputSink {
  write(text: string): void;
  /** Whether it is a terminal that a person reads. */
  readonly isTTY: boolean;
  /** Width of the terminal in columns; undefined where it is unknown or there is no terminal. */
  readonly columns?: number | undefined;
  /**
   * Resolves when everything is written: with undefined, or with the reason why a part of it could not be written.
   * Left out: writing always works, as in a test.
   */
  readonly lost?: () => Promise<string | undefined>;
}

/** Something that an answer depends on besides the arguments, as it was when the answer was made. Plain data. */
export interface Look {
  /** The question, such as `read`. */
  readonly kind: string;
  readonly args: readonly unknown[];
  /** A digest of what was seen. */
  readonly seen: string;
}

/** What a command can use of the process that it runs in. */
export interface Io {
  /** Absolute path of the current folder. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly stdout: OutputSink;
  readonly stderr: OutputSink;
  /** What `--color` says. Left out: `auto`. */
  readonly color?: ColorChoice;
  /** What tells this build of the program from every other one; undefined where it runs from source. */
  readonly build?: string;
  /** The date and time of day on the runner's own clock. All commands but `log` read no other. */
  readonly now: () => Moment;
  /** Is told of all that a command about a route looks at. Left out: nobody wants to know. */
  readonly looked?: (look: Look) => void;
}

/** Exit codes of the program. */
export const exitCodes = {
  fine: 0,
  /** `check` found something, or a command has nothing to answer. */
  findings: 1,
  /** Wrong use, or input that cannot be read. */
  wrong: 2,
} as const;

/** Writes a sentence for the person to stderr: on one line, or on a terminal on as many as it takes. */
export function printNotice(io: Pick<Io, 'env' | 'stderr' | 'color'>, sentence: string): void {
  writeSentences(io, io.stderr, [sentence]);
}

/**
 * Writes lines of an answer to stdout; on a terminal, one that is too long goes on below. A line break inside one of
 * them comes from a name, and becomes a space.
 */
export function printLines(io: Io, lines: readonly string[]): void {
  writeSentences(io, io.stdout, lines);
}

function writeSentences(
  { env, color }: Pick<Io, 'env' | 'color'>,
  sink: OutputSink,
  sentences: readonly string[],
): void {
  const screen = screenOf(sink, env, color);
  const lines = sentences.map(sanitizeLine).flatMap((sentence) => {
    const shown = screen.unicode ? sentence : asciiText(sentence);
    return screen.breaksLines ? wrapText(shown, screen.columns) : [shown];
  });
  sink.write(lines.map((line) => `${line}\n`).join(''));
}

/** The screen that stdout leads to. */
export function screenOfAnswer({ stdout, env, color }: Io): Screen {
  return screenOf(stdout, env, color);
}

/** The screen that stdout leads to, as plain data. */
export function screenData(io: Io): object {
  const { columns, unicode, breaksLines } = screenOfAnswer(io);
  return { columns, unicode, breaksLines, styled: isStyled(io.stdout, io.env, io.color) };
}

/** Writes a whole text to stdout as it is; names in it have been put on one line before. */
export function printText(io: Io, text: string): void {
  io.stdout.write(sanitizeOutput(text, isStyled(io.stdout, io.env, io.color)));
}

/** Writes a value as the one JSON document of stdout. */
export function printJson(io: Io, value: unknown): void {
  io.stdout.write(`${safeJson(value)}\n`);
}

/** Writes an answer to stdout that an earlier process has made safe and laid out for the same screen. */
export function printAgain({ stdout }: Io, text: string): void {
  stdout.write(text);
}

/** What a command prints, besides printing it. */
export interface Printed {
  /** Everything on stdout so far. */
  out: string;
  /** Whether there was a sentence for the person on stderr. */
  noticed: boolean;
}

/** The same place, with a record of what is printed there. */
export function recordPrinted(io: Io): { readonly io: Io; readonly printed: Printed } {
  const printed: Printed = { out: '', noticed: false };
  const { stdout, stderr } = io;
  const through = (sink: OutputSink, seen: (text: string) => void): OutputSink => ({
    isTTY: sink.isTTY,
    get columns() {
      return sink.columns;
    },
    write: (text) => {
      seen(text);
      sink.write(text);
    },
  });
  return {
    printed,
    io: {
      ...io,
      stdout: through(stdout, (text) => (printed.out += text)),
      // Progress is shown on one line that never ends.
      stderr: through(stderr, (text) => (printed.noticed ||= text.includes('\n'))),
    },
  };
}

/** Does slow work and shows a line about it on the terminal, which is erased afterwards. */
export function withProgress<T>(io: Io, what: string, work: () => T): T {
  const wipe = showProgress(io, what);
  try {
    return work();
  } finally {
    wipe();
  }
}

/** The same for asynchronous work. */
export async function withProgressAsync<T>(io: Io, what: string, work: () => Promise<T>): Promise<T> {
  const wipe = showProgress(io, what);
  try {
    return await work();
  } finally {
    wipe();
  }
}

/** Milliseconds after which a person is told what takes so long. */
const slowAfter = 1_000;

/** Progress of work whose length nobody knows before: a line on the terminal from the first second on, erased at the end. */
export function slowProgress(io: Pick<Io, 'env' | 'stderr'>): {
  /** Says what is done now, in half a sentence. */
  readonly show: (what: string) => void;
  readonly end: () => void;
} {
  if (!io.stderr.isTTY || io.env.TERM === 'dumb') return { show: () => undefined, end: () => undefined };
  const wipe = '\r\u001b[K';
  let what = '';
  let shown = '';
  const start = performance.now();
  const update = (): void => {
    if (what === shown || performance.now() - start < slowAfter) return;
    shown = what;
    const line = `${sanitizeLine(what)}…`;
    io.stderr.write(`${wipe}${line.slice(0, screenOf(io.stderr, io.env).columns - 1)}`);
  };
  const timer = setInterval(update, slowAfter / 4);
  timer.unref();
  return {
    show: (now) => void (what = now),
    end: () => {
      clearInterval(timer);
      if (shown !== '') io.stderr.write(wipe);
    },
  };
}

/** @returns a function that erases the line */
function showProgress(io: Io, what: string): () => void {
  if (!io.stderr.isTTY || io.env.TERM === 'dumb') return () => undefined;
  io.stderr.write(`${sanitizeLine(what)}…`);
  return () => io.stderr.write('\r\u001b[K');
}
