import { ModelCache } from '../../model/core/modelCache.ts';
import { runTimes } from '../../model/run/runTimes.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { segmentNamesOf } from '../../queries/names.ts';
import { resolveTarget } from '../../queries/target.ts';
import { noSegmentsMessage, oddsJson } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { formatCount } from '../../text/format.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import { knownTechniques } from '../route/knownTechniques.ts';
import { readRouteRequest, type RouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, cliError, isCliError } from '../terminal/cliError.ts';
import { type Io, withProgress } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** What a person asks of `routewright odds`. */
interface OddsRequest extends RouteRequest {
  /** Time to beat, seconds. */
  readonly target: number | undefined;
  /** Ids of techniques to count in besides those in the run, as written. */
  readonly extra: readonly string[];
}

function readOddsRequest(request: Request): OddsRequest {
  const { numbers, lists } = request;
  return { ...readRouteRequest(request), target: numbers.get('target'), extra: lists.get('with') ?? [] };
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
  const progress = `Working out ${formatCount(project.segments.length, 'segment')}`;
  const cache = new ModelCache();
  const report = withProgress(io, progress, () =>
    runOdds(modelInput, { target: target?.seconds ?? null, with: extra }, cache),
  );
  const answer = {
    json: () => oddsJson(report),
    print: () =>
      printPage(
        io,
        oddsPage(report, {
          ...answerHead(route, modelInput, io),
          segments: segmentNamesOf(project),
          times: withProgress(io, progress, () => runTimes(modelInput, cache, extra).bars),
          targetFrom: target?.from,
          with: extra,
        }),
      ),
  };
  return giveAnswer(answer, route, io);
}
