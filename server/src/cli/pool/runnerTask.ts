import type { PoolContribution } from '../../queries/poolContribution.ts';

// What a thread is handed, and what it hands back: plain data.

/** A log or a week file of a runner. */
export interface RunnerFile {
  readonly uri: string;
  readonly kind: 'practice' | 'runs' | 'week';
}

/** One runner to count. */
export interface RunnerTask {
  /** As the files have it; undefined where they name nobody. */
  readonly runner: string | undefined;
  readonly files: readonly RunnerFile[];
}

/** What all runners are counted by. */
export interface CountingRoute {
  /** URI of the route. */
  readonly route: string;
  /** The texts of the route and of those that it extends, by URI. */
  readonly texts: Readonly<Record<string, string>>;
  /** URIs of the folders that the logs must be in. */
  readonly within: readonly string[];
  /** Day number: what is logged after it does not count. */
  readonly asOf: number;
}

/** A file of a runner that was not read, and why. */
export interface UnreadFile {
  readonly uri: string;
  /** A whole sentence. */
  readonly message: string;
}

/** What came of a runner. */
export interface RunnerCount {
  /** Left out where too little was logged, or something of it was not read. */
  readonly contribution?: PoolContribution;
  /** Blocks and runs that are logged. */
  readonly entries: number;
  /** Day number of the last entry; undefined where there is none. */
  readonly lastDay: number | undefined;
  readonly unread: readonly UnreadFile[];
  /** Mistakes in the files: what they concern is left out. */
  readonly errors: number;
  /** A sentence where the logs are too large for the model. */
  readonly tooLarge?: string;
}
