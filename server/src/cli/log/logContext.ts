import type { Clock } from '../../journal/clock.ts';
import type { Journal } from '../../journal/journal.ts';
import type { Request } from '../terminal/arguments.ts';
import type { Io } from '../terminal/io.ts';
import type { LogTarget } from './logTarget.ts';

/** What logging works with. */
export interface LogContext {
  readonly io: Io;
  readonly request: Request;
  readonly target: LogTarget;
  /** Journal of the practice file. */
  readonly journal: Journal;
  readonly clock: Clock;
  /** Folder of what the tool keeps. */
  readonly state: string;
  readonly json: boolean;
}
