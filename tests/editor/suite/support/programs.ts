import { ChildProcess } from 'node:child_process';

/** What the extension starts while this is in force. */
export interface ProgramsStarted {
  /** The programs so far, by their files. */
  seen(): readonly string[];
  end(): void;
}

/**
 * Sees every program that the scripts of a folder start in the extension host: Node makes all of them through this one
 * function. The editor itself starts some there too, by scripts of its own. The server is a thread of the same process;
 * `tests/lsp/hostileFolder.test.ts` sees what it starts.
 *
 * @param folder path of the extension
 */
export function programsStarted(folder: string): ProgramsStarted {
  const found: string[] = [];
  const prototype = ChildProcess.prototype as unknown as { spawn(options: { file: string }): unknown };
  const original = prototype.spawn;
  prototype.spawn = function (options) {
    const limit = Error.stackTraceLimit;
    Error.stackTraceLimit = Infinity;
    if (new Error().stack?.includes(folder) === true) found.push(options.file);
    Error.stackTraceLimit = limit;
    return original.call(this, options);
  };
  return {
    seen: () => found,
    end() {
      prototype.spawn = original;
    },
  };
}
