import { ModelCache } from '../../model/core/modelCache.ts';
import { planWeekDeferringGap } from '../../model/week/planWeek.ts';
import { runTimes } from '../../model/run/runTimes.ts';
import { buildModelInput, type ModelInput } from '../../queries/modelInput.ts';
import { segmentNamesOf } from '../../queries/names.ts';
import { resolveTarget } from '../../queries/target.ts';
import { mostWeeks, weekInputFrom, weeksAhead, type WeekInput } from '../../queries/weekInput.ts';
import { noSegmentsMessage, oddsJson } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { practiseOrRunReport, type PractiseOrRunReport } from '../../reports/odds/practiseOrRunReport.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { formatCount } from '../../text/format.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute, type ChosenRoute } from '../route/chooseRoute.ts';
import { knownTechniques } from '../route/knownTechniques.ts';
import { remembered } from '../route/remembered.ts';
import { readRouteRequest, type RouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, cliError, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** What a person asks of `routewright odds`. */
interface OddsRequest extends RouteRequest {
  /** Time to beat, seconds. */
  readonly target: number | undefined;
  /** Ids of techniques to count in besides those in the run, as written. */
  readonly extra: readonly string[];
  /** Hours left for practice and runs; undefined: those of the week file. */
  readonly hours: number | undefined;
}

function readOddsRequest(request: Request): OddsRequest {
  const { numbers, lists } = request;
  return {
    ...readRouteRequest(request),
    target: numbers.get('target'),
    extra: lists.get('with') ?? [],
    hours: numbers.get('hours'),
  };
}

/** `routewright odds`: what to expect of the next run. */
export async function odds(request: Request, io: Io): Promise<CommandResult> {
  const asked = readOddsRequest(request);
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const { project, own, answerDay } = route;
  const extra = knownTechniques(project, asked.extra, 'with');
  if (isCliError(extra)) return extra;
  if (project.segments.length === 0) return cliError(noSegmentsMessage);
  const modelInput = buildModelInput(project, own, { asOf: answerDay.day });
  const target = resolveTarget(project, own, asked.target);
  if (asked.hours !== undefined && target === undefined) return cliError(hoursWithoutTarget);
  const progress = `Working out ${formatCount(project.segments.length, 'segment')}`;
  const cache = new ModelCache();
  const choices = { target: target?.seconds ?? null, with: extra };
  const split = target && splitTask(route, modelInput, { ...asked, extra, target: target.seconds });
  if (asked.hours !== undefined && split === undefined) return cliError(hoursWithoutPlan);
  const report = remembered(io, progress, ['odds', modelInput, choices, split], () =>
    runOdds(modelInput, choices, cache, split ? splitOf(split, cache) : null),
  );
  if (asked.hours !== undefined && report.practiseOrRun === null) return cliError(hoursWithoutPlan);
  const answer = {
    json: () => oddsJson(report),
    print: () =>
      printPage(
        io,
        oddsPage(report, {
          ...answerHead(route, modelInput, io),
          segments: segmentNamesOf(project),
          times: remembered(io, progress, ['times', modelInput, extra], () =>
            runTimes(modelInput, cache, extra),
          ).bars,
          targetFrom: target?.from,
          with: extra,
        }),
      ),
  };
  return giveAnswer(answer, route, io);
}

const hoursWithoutTarget =
  '--hours asks how to divide the hours until a target is beaten, and there is none: add --target 41:30, or write target: into the week file or the route.';
const hoursWithoutPlan =
  '--hours asks how many hours of the plan to practise first, and the plan has none: write minutes for practice into the week file, for example days: { mon: 60, wed: 60, sat: 90 }.';

/** What is asked about dividing the hours left between practice and runs, as plain data. */
interface SplitTask {
  readonly weekInput: WeekInput;
  readonly question: Parameters<typeof practiseOrRunReport>[2];
}

/** Undefined where there is no practice to plan. */
function splitTask(
  { project, own }: ChosenRoute,
  modelInput: ModelInput,
  { hours, extra, target }: Pick<OddsRequest, 'hours' | 'extra'> & { readonly target: number },
): SplitTask | undefined {
  const oneWeek = weekInputFrom(modelInput, project, own, 1);
  if (oneWeek.givenMinutes.every((minutes) => minutes === 0)) return undefined;
  const weeks = hours === undefined ? weeksAhead : weeksFor(hours, oneWeek);
  return {
    weekInput: weekInputFrom(modelInput, project, own, weeks),
    question: { target, hours, with: extra },
  };
}

function splitOf({ weekInput, question }: SplitTask, cache: ModelCache): PractiseOrRunReport | null {
  const { plan } = planWeekDeferringGap(weekInput.planInput, cache);
  return practiseOrRunReport(weekInput, plan.days, question, cache);
}

/** The weeks that so many hours take by the week file, as many of them as can be planned. */
function weeksFor(hours: number, { givenMinutes, runMinutes }: WeekInput): number {
  const perWeek = [...givenMinutes, ...runMinutes].reduce((sum, minutes) => sum + minutes, 0);
  return Math.max(1, Math.min(mostWeeks, Math.ceil((60 * hours) / perWeek)));
}
