import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import { oddsFromLogsInSteps } from '../../model/run/oddsFromLogs.ts';
import { oddsReport, type OddsReport, type SegmentSource } from './oddsReport.ts';
import type { PractiseOrRunReport } from './practiseOrRunReport.ts';
import type { RunnerSegmentTimes } from '../../queries/runnerSegmentTimes.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** The odds of a runner's next run, with segment times from the runner's own runs where there are enough of them. */
export const runOdds = inOneGo(runOddsInSteps);

/** The same in steps. */
export function* runOddsInSteps(
  modelInput: ModelInput,
  choices: { readonly target: number | null; readonly with: readonly string[] },
  cache?: ModelCache,
  practiseOrRun: PractiseOrRunReport | null = null,
): Steps<OddsReport> {
  return oddsReport(
    yield* oddsFromLogsInSteps(
      modelInput,
      { ...choices, runMinutesPerDay: modelInput.runMinutesPerDay },
      cache,
    ),
    modelInput.asOfDay,
    segmentSourcesOf(modelInput.times),
    practiseOrRun,
  );
}

function segmentSourcesOf({ route, fits, written }: RunnerSegmentTimes): SegmentSource[] {
  const byId = new Map(fits.map((fit) => [fit.segment, fit]));
  return route.segments.map(({ id }) => {
    const fit = byId.get(id);
    if (written.has(id)) return { segment: id, from: 'week', runs: 0 };
    return { segment: id, from: fit?.timeFrom ?? 'route', runs: fit?.runs ?? 0 };
  });
}
