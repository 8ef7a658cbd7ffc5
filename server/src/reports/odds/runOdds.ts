import type { RankCache } from '../../incremental/memoCache.ts';
import { oddsOf } from '../../model/run/oddsFromLogs.ts';
import { oddsReport, type OddsReport, type SegmentSource } from './oddsReport.ts';
import type { OwnTimes } from '../../queries/runnerSegmentTimes.ts';
import type { Question } from '../../queries/modelInput.ts';

/** The odds of a runner's next run, with the segment times of their own runs where there are enough. */
export function runOdds(
  question: Question,
  asked: { readonly target: number | null; readonly with: readonly string[] },
  cache?: RankCache,
): OddsReport {
  return oddsReport(oddsOf(question, asked, cache), question.asOfDay, sourcesOf(question.times));
}

function sourcesOf({ route, fits, written }: OwnTimes): SegmentSource[] {
  const byId = new Map(fits.map((fit) => [fit.segment, fit]));
  return route.segments.map(({ id }) => {
    const fit = byId.get(id);
    if (written.has(id)) return { segment: id, from: 'week', runs: 0 };
    return { segment: id, from: fit?.timeFrom ?? 'route', runs: fit?.runs ?? 0 };
  });
}
