import { compareMoments, runnerDayOf } from '../../../text/calendar.ts';
import type { Standing } from '../../../model/core/standing.ts';
import { formatPercent } from '../../../text/format.ts';
import { weekDefaults } from '../../../files/documents/weekDocument.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { restsOnWeight } from '../../../queries/resetWeightText.ts';
import { standingSentence } from '../../../queries/standingText.ts';
import { techniqueStatesOf } from '../../../queries/techniqueStates.ts';
import { nameIn } from '../../lookup/nameIn.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import type { ForecastRule, RuleReport, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** How many runs count as the last ones. */
const lastRuns = 10;

/** A technique that is tried in runs and is to be worked on again, or saves time at no landing rate. */
export const landsTooRarely: ForecastRule = {
  code: 'lands-too-rarely',
  severity: 'warning',
  title: 'A technique tried in runs that lands there too rarely, or less than before.',
  page: {
    why: 'Below its break-even a technique loses more by its misses than it saves when it lands. One that slipped is on the way there.',
    way: 'Give it a block or two until it is competent again. While trying it costs time, take the safe way in runs that should be fast; in a run for learning, go on.',
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
    const confidence = context.own.week?.document.confidence ?? weekDefaults.confidence;
    return [...triedNow(context)].flatMap(([id, place]): RuleReport[] => {
      const now = assessment.get(id);
      const message = now && complaint(id, now.standing, confidence, nameIn(context));
      return message === undefined ? [] : [{ ...place, message: message + restsOnWeight(now!.resetWeight) }];
    });
  },
};

/** What to say of a technique that is tried in runs; undefined where nothing speaks against it. */
function complaint(
  id: string,
  standing: Standing,
  confidence: number,
  nameOf: (id: string) => string,
): string | undefined {
  const reason = standingSentence(standing, nameOf);
  if (standing.cause.why === 'never pays')
    return `\`${id}\` is tried in runs. ${reason} Take the safe way, or correct what it saves and loses.`;
  if (standing.cause.why === 'never landed enough' || standing.cause.why === 'out of reach')
    return `\`${id}\` is tried in runs. ${reason} In runs take the safe way; \`rank\` says whether practice on it is worth more than on others.`;
  if (standing.kind === 'learning' && standing.tried && standing.chancePays <= 1 - confidence)
    return `\`${id}\` is being learned and tried in runs too early: it lands ${formatPercent(standing.runNow)} there and pays from ${formatPercent(standing.breakEven ?? 1)}. ${reason} In runs take the safe way until it is competent, or go on if the run is for learning.`;
  if (standing.kind !== 'again') return undefined;
  const inRuns = standing.worthTrying
    ? 'It still pays on average: go on trying it.'
    : 'In runs take the safe way until then, or go on if the run is for learning.';
  return `\`${id}\` is to be worked on again. ${reason} Give it a block or two until it is competent again. ${inRuns}`;
}

/** Techniques that are in the run or were tried in the last runs, each with the place to report. */
function triedNow(context: RuleContext): Map<string, SourceRef> {
  const { project, own, today } = context;
  const dayStarts = dayStartsOf(context.own);
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
    .sort((a, b) => compareMoments(b.start, a.start));
  let counted = 0;
  for (const { uri, tried, started } of runs) {
    if (counted >= lastRuns) break;
    counted += started;
    for (const { technique, tries, path } of tried)
      if (tries > 0) add(currentTechniqueId(project, technique), { uri, path, part: 'key' });
  }
  return found;
}
