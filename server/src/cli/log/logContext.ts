import type { Clock } from '../../journal/clock.ts';
import type { Journal } from '../../journal/journal.ts';
import type { Request } from '../terminal/arguments.ts';
import type { Io } from '../terminal/io.ts';
import type { LogTarget } from './logTarget.ts';

/** What every action of `log` uses. */
export interface LogContext {
  readonly io: Io;
  readonly request: Request;
  readonly target: LogTarget;
  /** Journal of the practice file. */
  readonly journal: Journal;
  readonly clock: Clock;
  /** Folder in which the tool keeps its own files. */
  readonly state: string;
  readonly json: boolean;
}
