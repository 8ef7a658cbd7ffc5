import { oddsJson } from '../../reports/odds/oddsReport.ts';
import { oddsPage } from '../../reports/odds/oddsText.ts';
import { counted } from '../../text/format.ts';
import { basisOf } from '../../reports/basisText.ts';
import { namesOf, segmentNamesOf } from '../../queries/names.ts';
import { questionOf } from '../../queries/modelInput.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { targetOf } from '../../queries/target.ts';
import { askedTarget, asOfDay, type Request } from '../terminal/arguments.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { isUnusable, knownTechniques, subjectOf, titleOf } from '../project/chosenRoute.ts';

/** `routewright odds`: what to expect of a run. Returns the exit code. */
export async function odds(request: Request, io: Io): Promise<number> {
  const subject = await subjectOf(request, io, 'odds');
  const extra = isUnusable(subject)
    ? subject
    : knownTechniques(subject.project, request.lists.get('with') ?? [], 'with');
  if (isUnusable(subject) || isUnusable(extra)) {
    tell(io, (isUnusable(subject) ? subject : (extra as { message: string })).message);
    return exit.wrong;
  }
  const { project, own, loaded } = subject;
  if (project.segments.length === 0) {
    tell(io, 'The route has no segments yet, so there is no run to speak of.');
    return exit.wrong;
  }
  const asked = asOfDay(request);
  const question = questionOf(project, own, { asOf: asked });
  const target = targetOf(project, own, askedTarget(request));
  const report = withProgress(io, `Working out ${counted(project.segments.length, 'segment')}`, () =>
    runOdds(question, { target: target?.seconds ?? null, with: extra }),
  );
  if (request.switches.has('json')) printJson(io, oddsJson(report));
  else {
    const page = oddsPage(report, {
      title: titleOf(project, io),
      basis: basisOf(own, question, asked === undefined ? 'last' : 'asked'),
      names: namesOf(project),
      segments: segmentNamesOf(project),
      targetFrom: target?.from,
      with: extra,
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exit.wrong : exit.fine;
}
