/** One word for a week of a technique. It follows from where the technique stands, so the two never disagree. */
import type { Standing } from '../core/standing.ts';
import type { AttemptCount } from '../core/types.ts';

/**
 * - `slipped`: it is to be worked on again.
 * - `competent`: it is in the run; `overPractised`: so it is, and it was practised past its use.
 * - `untried`: nothing of it is logged; `tooFewDays`: its practice was crowded into few days; `steady`: anything else.
 */
export type Verdict = 'competent' | 'slipped' | 'overPractised' | 'tooFewDays' | 'steady' | 'untried';

/** What the word rests on: the standing, and the facts of the logs that only describe the week. */
export interface VerdictFacts {
  readonly standing: Pick<Standing, 'kind'>;
  /** All counts in practice and in runs. */
  readonly practice: AttemptCount;
  readonly run: AttemptCount;
  /** Null if it was not practised in the week. */
  readonly practised: { readonly pastUse: boolean; readonly crowded: boolean } | null;
}

export function verdictOf({ standing: { kind }, practice, run, practised }: VerdictFacts): Verdict {
  if (kind === 'again') return 'slipped';
  if (kind === 'in-run') return practised?.pastUse ? 'overPractised' : 'competent';
  if (practice.tries + run.tries === 0 && practised === null) return 'untried';
  return practised?.crowded ? 'tooFewDays' : 'steady';
}
