import { buildModelInput } from '../../queries/modelInput.ts';
import { segmentNamesOf, techniqueNamesOf } from '../../queries/names.ts';
import { resolveTarget } from '../../queries/target.ts';
import { basisText } from '../../reports/basisText.ts';
import { oddsJson } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { formatCount } from '../../text/format.ts';
import { titleOf } from '../project/titleOf.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import { knownTechniques } from '../route/knownTechniques.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, cliError, isCliError } from '../terminal/cliError.ts';
import { type Io, exitCodes, printJson, withProgress } from '../terminal/io.ts';
import { asOfDay, targetOption } from '../terminal/optionValues.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright odds`: what to expect of the next run. */
export async function odds(request: Request, io: Io): Promise<CommandResult> {
  const chosenRoute = await chooseRoute(request, io, 'odds');
  if (isCliError(chosenRoute)) return chosenRoute;
  const { project, own, loaded } = chosenRoute;
  const extra = knownTechniques(project, request.lists.get('with') ?? [], 'with');
  if (isCliError(extra)) return extra;
  if (project.segments.length === 0)
    return cliError('The route has no segments yet, so there is no run to speak of.');
  const asOf = asOfDay(request);
  const modelInput = buildModelInput(project, own, { asOf });
  const target = resolveTarget(project, own, targetOption(request));
  const report = withProgress(io, `Working out ${formatCount(project.segments.length, 'segment')}`, () =>
    runOdds(modelInput, { target: target?.seconds ?? null, with: extra }),
  );
  if (request.switches.has('json')) printJson(io, oddsJson(report));
  else {
    const page = oddsPage(report, {
      title: titleOf(project, io),
      basis: basisText(own, modelInput, asOf === undefined ? 'last' : 'asked'),
      names: techniqueNamesOf(project),
      segments: segmentNamesOf(project),
      targetFrom: target?.from,
      with: extra,
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exitCodes.wrong : exitCodes.fine;
}
