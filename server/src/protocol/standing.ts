import type { StandingKind } from '../model/core/types.ts';

/** Where a technique stands, as every command prints it with `--json` and as the editor gets it. */
export interface StandingReport {
  readonly technique: string;
  readonly standing: StandingKind;
  /** Date from which it holds; null if that cannot be said. */
  readonly since: string | null;
  /** Why, in one sentence. */
  readonly reason: string;
}
