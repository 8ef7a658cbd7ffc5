import type { Input } from './seeds.ts';

/** What a worker of the fuzzer is to do. */
export interface Task {
  readonly seed: number;
  /** Index of the first input, and of the one behind the last. */
  readonly from: number;
  readonly to: number;
  /** Of so many inputs one is also shown to every feature; 0 for none. */
  readonly featuresEvery: number;
  /** A reader with a mistake, by its name. */
  readonly plant: string | undefined;
  /** What was kept so far, and what was seen. */
  readonly corpus: readonly Input[];
  readonly seen: readonly string[];
  /** Fixed inputs instead of those by chance: texts that ask for too much, or hostile values for every key. */
  readonly fixed: 'bombs' | 'hostile' | undefined;
  /** Of so many hostile values one is tried. */
  readonly oneIn: number;
}

/** What a worker says. */
export type Said =
  | { readonly type: 'begins'; readonly index: number; readonly what: string; readonly input: Input }
  | { readonly type: 'kept'; readonly input: Input; readonly seen: readonly string[] }
  | {
      readonly type: 'failed';
      readonly index: number;
      readonly what: string;
      readonly error: string;
      readonly input: Input;
    }
  | { readonly type: 'took'; readonly what: string; readonly ms: number }
  | { readonly type: 'done' };
