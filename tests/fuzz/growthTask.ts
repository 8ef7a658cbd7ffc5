/** One thing that is done with files of a size: the same with twice as much must take less than three times as long. */
export interface GrowthJob {
  readonly name: string;
  /** `reader`, `rules` (all of them, without forecasts), `features`, or the words of a command line. */
  readonly way: 'reader' | 'rules' | 'features' | readonly string[];
  /** The file that the reader and the features are asked of. */
  readonly file: string;
  /** Files by name: a few repeats to begin with, then the size, then twice that. */
  readonly sizes: readonly Readonly<Record<string, string>>[];
}

export interface GrowthTask {
  readonly jobs: readonly GrowthJob[];
  /** A reader with a mistake, by its name. */
  readonly plant: string | undefined;
}

/** What a worker says: before each measurement, and after it with the milliseconds of processor time. */
export type GrowthSaid =
  | { readonly type: 'begins'; readonly job: number; readonly size: number }
  | { readonly type: 'took'; readonly job: number; readonly size: number; readonly ms: number }
  | { readonly type: 'failed'; readonly job: number; readonly error: string }
  | { readonly type: 'done' };
