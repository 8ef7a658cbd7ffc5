import { weekDefaults } from '../files/documents/weekDocument.ts';
import type { TonightInput } from '../model/tonight/tonightInput.ts';
import type { MemoCache } from '../incremental/memoCache.ts';
import type { RankInput } from '../model/index.ts';
import type { Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { buildModelInput } from './modelInput.ts';
import { lastLoggedDay } from './modelLogs.ts';
import type { WeekInput } from './weekInput.ts';

/**
 * The input of tonight's answer, for the same files and day as the planner's input.
 *
 * @param memory keeps results that the next input of the last time can use again; not the one of `weekInput`
 */
export function buildTonightInput(
  project: Project,
  own: RunnerFiles,
  { planInput, givenMinutes }: WeekInput,
  memory?: MemoCache,
): TonightInput {
  return { plan: planInput, givenMinutes, lastTime: lastTimeOf(project, own, planInput, memory) };
}

/**
 * What was known on the morning of the last day with entries before today. States and segment times are those of that
 * morning, too.
 */
function lastTimeOf(
  project: Project,
  own: RunnerFiles,
  { asOfDay }: RankInput,
  memory: MemoCache | undefined,
): RankInput | null {
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const lastDay = lastLoggedDay(own, dayStarts, asOfDay - 1);
  if (lastDay === undefined) return null;
  const morning = buildModelInput(project, own, { asOf: lastDay - 1, ...(memory && { memory }) });
  return { ...morning, asOfDay: lastDay };
}
