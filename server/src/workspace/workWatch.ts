/** Learns which file is worked on, so that a file on which the work never ends can be named. */
export interface WorkWatch {
  /** Does some work on a file, in one go. */
  on<T>(uri: string, work: () => T): T;
}

/** For work that nobody watches. */
export const unwatched: WorkWatch = { on: (_uri, work) => work() };
