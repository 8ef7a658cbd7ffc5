import { oddsJson } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { formatCount } from '../../text/format.ts';
import { basisText } from '../../reports/basisText.ts';
import { techniqueNamesOf, segmentNamesOf } from '../../queries/names.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { resolveTarget } from '../../queries/target.ts';
import { targetOption, asOfDay, type Request } from '../terminal/arguments.ts';
import { exitCodes, printJson, printNotice, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { isInputError, knownTechniques, chooseRoute, titleOf } from '../project/chosenRoute.ts';

/** `routewright odds`: what to expect of a run. Returns the exit code. */
export async function odds(request: Request, io: Io): Promise<number> {
  const subject = await chooseRoute(request, io, 'odds');
  const extra = isInputError(subject)
    ? subject
    : knownTechniques(subject.project, request.lists.get('with') ?? [], 'with');
  if (isInputError(subject) || isInputError(extra)) {
    printNotice(io, (isInputError(subject) ? subject : (extra as { message: string })).message);
    return exitCodes.wrong;
  }
  const { project, own, loaded } = subject;
  if (project.segments.length === 0) {
    printNotice(io, 'The route has no segments yet, so there is no run to speak of.');
    return exitCodes.wrong;
  }
  const asked = asOfDay(request);
  const question = buildModelInput(project, own, { asOf: asked });
  const target = resolveTarget(project, own, targetOption(request));
  const report = withProgress(io, `Working out ${formatCount(project.segments.length, 'segment')}`, () =>
    runOdds(question, { target: target?.seconds ?? null, with: extra }),
  );
  if (request.switches.has('json')) printJson(io, oddsJson(report));
  else {
    const page = oddsPage(report, {
      title: titleOf(project, io),
      basis: basisText(own, question, asked === undefined ? 'last' : 'asked'),
      names: techniqueNamesOf(project),
      segments: segmentNamesOf(project),
      targetFrom: target?.from,
      with: extra,
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exitCodes.wrong : exitCodes.fine;
}
