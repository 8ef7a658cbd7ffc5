import { proseWidth } from '../../text/wrap.ts';

/** Where a command writes to. */
export interface OutputSink {
  write(text: string): void;
  /** Whether a person watches it on a terminal. */
  readonly isTTY: boolean;
  /** Columns of the terminal, where there is one and they are known. */
  readonly columns?: number | undefined;
}

/** What a command sees of the process it runs in. */
export interface Io {
  /** Absolute path of the current folder. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly stdout: OutputSink;
  readonly stderr: OutputSink;
}

/** How a command ends. */
export const exitCodes = {
  fine: 0,
  /** `check` found something, or there is nothing to say. */
  findings: 1,
  /** Wrong use, or input that cannot be read. */
  wrong: 2,
} as const;

/** Writes a sentence for the person to stderr. */
export function printNotice(io: Io, sentence: string): void {
  io.stderr.write(`${sentence}\n`);
}

/** Writes a value as the one JSON document of stdout. */
export function printJson(io: Io, value: unknown): void {
  io.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

/** Whether a sink may get bold and dim text. */
export function supportsStyle(sink: OutputSink, env: Io['env']): boolean {
  return sink.isTTY && !env.NO_COLOR && env.TERM !== 'dumb';
}

/** Does some long work with a line about it on the terminal, which is wiped afterwards. */
export function withProgress<T>(io: Io, what: string, work: () => T): T {
  const wipe = showProgress(io, what);
  try {
    return work();
  } finally {
    wipe();
  }
}

/** The same for work that is waited for. */
export async function withProgressAsync<T>(io: Io, what: string, work: () => Promise<T>): Promise<T> {
  const wipe = showProgress(io, what);
  try {
    return await work();
  } finally {
    wipe();
  }
}

/** @returns what wipes the line again */
function showProgress(io: Io, what: string): () => void {
  if (!io.stderr.isTTY || io.env.TERM === 'dumb') return () => undefined;
  io.stderr.write(`${what}…`);
  return () => io.stderr.write('\r\u001b[K');
}

/** Columns that prose may take: those of the terminal, within what reads well. */
export function proseColumns(sink: OutputSink): number {
  const { columns } = sink;
  return columns === undefined || !(columns > 0) ? proseWidth : Math.min(proseWidth, Math.max(40, columns));
}
