import { inOneGo } from '../incremental/steps.ts';
import type { Steps } from '../incremental/steps.ts';
import { weekDefaults } from '../files/documents/weekDocument.ts';
import type { TonightInput } from '../model/tonight/tonightInput.ts';
import type { MemoCache } from '../incremental/memoCache.ts';
import type { RankInput } from '../model/index.ts';
import type { Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { buildModelInputInSteps } from './modelInput.ts';
import { lastLoggedDay } from './modelLogs.ts';
import type { WeekInput } from './weekInput.ts';

/**
 * The input of tonight's answer, for the same files and day as the planner's input.
 *
 * @param memory keeps results that the next input of the last time can use again; not the one of `weekInput`
 */
export const buildTonightInput = inOneGo(buildTonightInputInSteps);

/** The same in steps. */
export function* buildTonightInputInSteps(
  project: Project,
  own: RunnerFiles,
  { planInput, givenMinutes }: WeekInput,
  memory?: MemoCache,
): Steps<TonightInput> {
  const lastTime = yield* lastTimeOf(project, own, planInput, memory);
  return { plan: planInput, givenMinutes, lastTime };
}

/**
 * What was known on the morning of the last day with entries before today. States and segment times are those of that
 * morning, too.
 */
function* lastTimeOf(
  project: Project,
  own: RunnerFiles,
  { asOfDay }: RankInput,
  memory: MemoCache | undefined,
): Steps<RankInput | null> {
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const lastDay = lastLoggedDay(own, dayStarts, asOfDay - 1);
  if (lastDay === undefined) return null;
  const morning = yield* buildModelInputInSteps(project, own, {
    asOf: lastDay - 1,
    ...(memory && { memory }),
  });
  return { ...morning, asOfDay: lastDay };
}
