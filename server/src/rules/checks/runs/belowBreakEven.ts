import { runnerDayOf } from '../../../text/calendar.ts';
import type { Assessment } from '../../../model/core/results.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { techniqueStatesOf } from '../../../queries/techniqueStates.ts';
import { dayStartsOf } from '../../lookup/ownFiles.ts';
import type { ForecastRule, RuleReport, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** Below this chance that trying pays, it most likely costs time. */
const slimChance = 0.2;
/** How many runs count as the last ones. */
const lastRuns = 10;

/** A technique that is tried in runs although it lands too rarely to pay. */
export const belowBreakEven: ForecastRule = {
  code: 'below-break-even',
  severity: 'warning',
  title: 'A technique tried in runs that lands too rarely there to pay.',
  page: {
    why: 'Below its break-even a technique loses more by its misses than it saves when it lands.',
    way: 'Take the safe way in runs that should be fast, and practise it. In a run for learning, go on.',
    failing: {
      practice: `sessions:
  - start: 2026-10-04T19:00
    blocks: [{ technique: rope-swing, minutes: 25, landed: [2, 250] }]
  - start: 2026-10-05T19:00
    blocks: [{ technique: rope-swing, minutes: 25, landed: [3, 250] }]
`,
      runs: `runs:
  - { date: 2026-10-06, minutes: 60, runs: 12, finished: 1, tried: { rope-swing: [0, 12] } }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-04T19:00
    blocks: [{ technique: rope-swing, minutes: 25, landed: [150, 250] }]
  - start: 2026-10-05T19:00
    blocks: [{ technique: rope-swing, minutes: 25, landed: [190, 250] }]
`,
      runs: `runs:
  - { date: 2026-10-06, minutes: 60, runs: 12, finished: 1, tried: { rope-swing: [10, 12] } }
`,
    },
  },
  techniqueIds: (context) => triedNow(context).keys(),
  check(context, assessment) {
    return [...triedNow(context)].flatMap(([id, place]): RuleReport[] => {
      const now = assessment.get(id);
      if (!now || !costsTime(now)) return [];
      const { runNow, breakEven } = now;
      const message = `At present trying \`${id}\` in runs costs time: about ${percent(runNow.mean)} of its tries land there (${percent(runNow.low)} to ${percent(runNow.high)}), and it pays only above ${percent(breakEven)}. Take the safe way for now and practise it, or go on if the run is for learning.`;
      return [{ ...place, message }];
    });
  },
};

/**
 * Whether trying costs time. Where no landing rate pays, as with an item that is needed later, break-even does not show
 * that.
 */
function costsTime(now: Assessment): now is Assessment & { readonly breakEven: number } {
  return (
    now.breakEven !== null && (now.runNow.high < now.breakEven || now.chanceAboveBreakEvenNow < slimChance)
  );
}

/** Techniques that are in the run or were tried in the last runs, each with the place to report. */
function triedNow(context: RuleContext): Map<string, SourceRef> {
  const { project, own, today } = context;
  const dayStarts = dayStartsOf(context);
  const found = new Map<string, SourceRef>();
  const add = (id: string | undefined, written: SourceRef) => {
    const technique = id === undefined ? undefined : project.techniques.get(id);
    if (!technique || found.has(technique.id)) return;
    // In a route that others extend, what is logged for one of them is no finding: then the log is the place.
    const own = technique.uri === project.route.uri;
    found.set(technique.id, own ? { uri: technique.uri, path: technique.path, part: 'key' } : written);
  };
  const states = techniqueStatesOf(project, own, dayStarts, today);
  for (const { id, path } of own.week?.document.states ?? []) {
    const current = currentTechniqueId(project, id);
    if (current !== undefined && states.get(current) === 'in-run')
      add(current, { uri: own.week!.uri, path, part: 'key' });
  }
  const runs = own.runs
    .flatMap(({ uri, document }) => document.runs.map((run) => ({ ...run, uri })))
    .filter(({ start }) => runnerDayOf(start, dayStarts) <= today)
    .sort((a, b) => b.start.date - a.start.date || (b.start.minute ?? 0) - (a.start.minute ?? 0));
  let counted = 0;
  for (const { uri, tried, started } of runs) {
    if (counted >= lastRuns) break;
    counted += started;
    for (const { technique, tries, path } of tried)
      if (tries > 0) add(currentTechniqueId(project, technique), { uri, path, part: 'key' });
  }
  return found;
}

function percent(rate: number): string {
  return `${Math.round(100 * rate)} %`;
}
