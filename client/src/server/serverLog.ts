import { Disposable, window, type LogOutputChannel } from 'vscode';

/** How many entries are kept for a bug report. */
const maxEntries = 40;

const levels = ['info', 'warn', 'error'] as const;
type Level = (typeof levels)[number];

/** One entry of the log, unchanged: it may hold names and contents of files. */
export interface LogEntry {
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly level: Level;
  readonly text: string;
}

/** The log in the editor's output view, and its last entries. */
export class ServerLog extends Disposable {
  /** The channel to write to. The language client's library writes to it as well; its entries are kept too. */
  readonly channel: LogOutputChannel;
  private readonly last: LogEntry[] = [];

  constructor() {
    const whole = window.createOutputChannel('Routewright', { log: true });
    super(() => whole.dispose());
    this.channel = new Proxy(whole, {
      get: (target, name) => {
        const level = levels.find((each) => each === name);
        if (level === undefined) return Reflect.get(target, name) as unknown;
        return (text: string | Error, ...more: unknown[]): void => {
          this.keep(level, typeof text === 'string' ? text : (text.stack ?? text.message));
          target[level](text as string, ...more);
        };
      },
    });
  }

  /** The last entries, oldest first. */
  entries(): readonly LogEntry[] {
    return [...this.last];
  }

  private keep(level: Level, text: string): void {
    this.last.push({ at: Date.now(), level, text });
    if (this.last.length > maxEntries) this.last.shift();
  }
}
