import type { Steps } from '../../incremental/steps.ts';
import type { PlannedBlock } from '../../model/rank/rateCurve.ts';
import { resolveConstants } from '../../model/index.ts';
import { resetWeightOf } from '../../model/rank/resetPreference.ts';
import { objectiveOptions, objectives } from '../../model/rank/objectives/objectives.ts';
import type { Plan } from '../../model/week/planWeek.ts';
import { basisText } from '../../reports/basisText.ts';
import { curveView, type ForecastBasis } from '../../reports/panel/curveView.ts';
import { rankingView } from '../../reports/panel/rankingView.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { tonightView } from '../../reports/panel/tonightView.ts';
import { weekView } from '../../reports/panel/weekView.ts';
import { oddsView } from '../../reports/panel/oddsView.ts';
import { techniqueName } from '../../reports/panel/panelNames.ts';
import { standingReports, standingsById } from '../../reports/standingReports.ts';
import { tonightWordsOf } from '../../reports/tonight/tonightReport.ts';
import { tonightText } from '../../reports/tonight/tonightText.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { resolveTarget } from '../../queries/target.ts';
import { dailyBlocks, daysAhead } from '../../queries/dailyBlocks.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';
import { afterSection } from './afterSection.ts';
import { compareSection } from './compareSection.ts';
import { progressSection } from './progressSection.ts';
import { reviewSection } from './reviewSection.ts';

/** The section of the view that was requested; the others are empty. */
export function* sectionsOf(input: SectionInput): Steps<Sections> {
  const { names } = input;
  if (names.segments.size === 0 && names.techniques.size === 0) {
    return {
      ...emptySections,
      message:
        'This route is still empty. Write its segments with their times, and the techniques with difficulty and saves: the panel follows as you type.',
      remedies: remedies(input.own, 'route', 'paste'),
    };
  }
  switch (input.params.view) {
    case 'ranking':
      return yield* rankingSection(input);
    case 'curve':
      return yield* curveSection(input);
    case 'odds':
      return yield* oddsSection(input);
    case 'progress':
      return yield* progressSection(input);
    case 'after':
      return yield* afterSection(input);
    case 'compare':
      return yield* compareSection(input);
    case 'review':
      return yield* reviewSection(input);
    case 'week':
      return yield* weekSection(input);
  }
}

const noTechnique =
  'The route has no technique yet. Add one under techniques: with its difficulty and what it saves, and use it in a segment.';

function* rankingSection({
  reports,
  project,
  own,
  modelInput,
  names,
  params,
}: SectionInput): Steps<Sections> {
  if (names.techniques.size === 0)
    return { ...emptySections, message: noTechnique, remedies: remedies(own, 'route', 'paste') };
  const target = names.segments.size === 0 ? undefined : resolveTarget(project, own)?.seconds;
  const by = objectiveOptions(params.objective, { target });
  const { report: ranking, fresh } = yield* reports.ranking(project, modelInput, params.wait, by);
  const report = ranking && rankReport(ranking, modelInput.asOfDay, names.techniques);
  const { midwayPerStep } = resolveConstants(modelInput.constants);
  // By another objective than time, nothing rests on what a second lost to resets counts.
  const byTime = report?.objective === objectives[0].id;
  const rest = params.rest === true && params.wait;
  const preference = byTime ? yield* reports.preference(project, modelInput, rest) : undefined;
  const known = preference?.fresh === true ? (preference.report ?? null) : null;
  return {
    ...emptySections,
    ranking: report ? rankingView(report, names, midwayPerStep, target, known) : null,
    pending: fresh ? null : 'Ranking what to practise next',
    more: fresh && preference?.fresh === false,
  };
}

function* curveSection({ reports, project, own, modelInput, names, params }: SectionInput): Steps<Sections> {
  const wanted = params.technique === null ? undefined : currentTechniqueId(project, params.technique);
  const { report: ranking } = yield* reports.ranking(project, modelInput, false);
  const ranked = ranking?.rows[0]?.technique;
  const first = ranked !== undefined && names.techniques.has(ranked) ? ranked : undefined;
  const technique = wanted ?? first ?? [...names.techniques.keys()][0];
  if (technique === undefined)
    return { ...emptySections, message: noTechnique, remedies: remedies(own, 'route', 'paste') };
  const weekInput = reports.weekPlanInput(project, own, modelInput);
  const { report: plan, fresh: planFresh } = yield* reports.week(project, modelInput, weekInput, params.wait);
  const { blocks, basis } = plannedBlocksOf(plan, technique) ?? dailyBlockForecast(modelInput);
  const ahead = { blocks, until: basis.until };
  const wait = params.wait && planFresh;
  const { report, fresh } = yield* reports.curve(project, modelInput, technique, ahead, wait);
  const name = techniqueName(names, technique);
  const resetWeight = resetWeightOf(modelInput, technique);
  // An older plan may not have a technique that was added since.
  const standings = plan && standingsById(standingReports(plan.standings, names.techniques));
  return {
    ...emptySections,
    curve:
      report && standings?.has(technique) === true
        ? curveView(report, technique, { asOfDay: modelInput.asOfDay, basis, names, standings, resetWeight })
        : null,
    pending: fresh && planFresh ? null : `Working out the curve of ${name}`,
  };
}

function* weekSection({ reports, project, own, modelInput, names, params }: SectionInput): Steps<Sections> {
  if (names.techniques.size === 0)
    return { ...emptySections, message: noTechnique, remedies: remedies(own, 'route', 'paste') };
  const weekInput = reports.weekPlanInput(project, own, modelInput);
  if (weekInput.givenMinutes.every((minutes) => minutes === 0))
    return { ...emptySections, message: noMinutes, remedies: remedies(own, 'minutes') };
  const { report, fresh } = yield* reports.week(project, modelInput, weekInput, params.wait);
  const evening = yield* reports.tonight(project, own, modelInput, params.wait);
  if (!report || !evening.report) return { ...emptySections, pending: 'Planning the week' };
  const words = tonightText(evening.report, tonightWordsOf(project, own, modelInput.asOfDay));
  const gap = reports.gap(report);
  const { runMinutes, givenMinutes } = weekInput;
  const off = new Set(own.week?.document.off.map(({ date }) => date));
  return {
    ...emptySections,
    week: {
      tonight: tonightView(words),
      ...weekView(report, gap, { runMinutes, givenMinutes, off }, names),
    },
    pending: fresh && evening.fresh ? null : 'Planning the week',
    more: fresh && evening.fresh && gap.method === 'not bounded',
  };
}

const noMinutes =
  'No day has minutes for practice yet. Write them into the week file, for example days: { mon: 60, wed: 60, sat: 90 }, and the plan follows.';

function* oddsSection({
  reports,
  project,
  own,
  modelInput,
  answerDay,
  names,
  params,
}: SectionInput): Steps<Sections> {
  if (names.segments.size === 0) {
    const message = 'The route has no segment yet. Add one under segments: with its id and usual time.';
    return { ...emptySections, message, remedies: remedies(own, 'route', 'paste') };
  }
  const target = resolveTarget(project, own)?.seconds ?? null;
  const { report, fresh } = yield* reports.odds(project, own, modelInput, target, params.wait);
  return {
    ...emptySections,
    odds: report ? oddsView(report.odds, report.times, names, basisText(own, modelInput, answerDay)) : null,
    remedies: target === null ? remedies(own, 'target') : [],
    pending: fresh ? null : 'Working out the odds of the run',
  };
}

/** The blocks of a technique in the plan; undefined where the plan has none. */
function plannedBlocksOf(
  plan: Plan | undefined,
  technique: string,
): { readonly blocks: readonly PlannedBlock[]; readonly basis: ForecastBasis } | undefined {
  if (!plan) return undefined;
  const blocks = plan.days.flatMap(({ day, blocks: own }) =>
    own.filter((block) => block.technique === technique).map(({ minutes }) => ({ day, minutes })),
  );
  if (blocks.length === 0) return undefined;
  const until = plan.asOfDay + plan.days.length;
  const blockMinutes = blocks[0]?.minutes ?? 0;
  return { blocks, basis: { blocks: blocks.length, until, planned: true, blockMinutes } };
}

/** One block a day, of the length that the ranking assumes. */
function dailyBlockForecast(input: ModelInput): {
  readonly blocks: readonly PlannedBlock[];
  readonly basis: ForecastBasis;
} {
  const until = input.asOfDay + daysAhead;
  const basis = { blocks: daysAhead, until, planned: false, blockMinutes: input.options.blockMinutes };
  return { blocks: dailyBlocks(input), basis };
}
