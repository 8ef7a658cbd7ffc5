import { rank as rankTechniques, resolveConstants } from '../../model/index.ts';
import { RankCache } from '../../incremental/memoCache.ts';
import { alternativeJson, alternativeSentence } from '../../reports/explain/cycleAlternative.ts';
import { formatTime } from '../../text/time.ts';
import { counted } from '../../text/format.ts';
import { gainUnit, targetSentence } from '../../reports/rank/gainFormat.ts';
import { rankJson } from '../../reports/rank/rankJson.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { rankText } from '../../reports/rank/rankText.ts';
import { basisOf } from '../../reports/basisText.ts';
import { namesOf } from '../../queries/names.ts';
import { questionOf } from '../../queries/modelInput.ts';
import { targetOf } from '../../queries/target.ts';
import { askedTarget, asOfDay, type Request } from '../terminal/arguments.ts';
import { cautionFor } from '../../queries/overuseWarning.ts';
import { alternativesOf, cyclesOf, explainRow } from './explain.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { styleOf } from '../terminal/print.ts';
import { isUnusable, subjectOf, titleOf, type Subject } from '../project/chosenRoute.ts';

/** `routewright rank`: which technique to learn next. Returns the exit code. */
export async function rank(request: Request, io: Io): Promise<number> {
  const subject = await subjectOf(request, io, 'rank');
  if (isUnusable(subject)) {
    tell(io, subject.message);
    return exit.wrong;
  }
  const { project, own, loaded } = subject;
  const cycles = cyclesOf(subject, request);
  if (isUnusable(cycles)) {
    tell(io, cycles.message);
    return exit.wrong;
  }
  const target = objectiveTarget(subject, request);
  if (isUnusable(target)) {
    tell(io, target.message);
    return exit.wrong;
  }
  const explained = request.values.get('explain');
  if (explained !== undefined) return explainRow(subject, request, io, explained);
  const asked = asOfDay(request);
  const plain = questionOf(project, own, { asOf: asked, all: request.switches.has('all') });
  const question = { ...plain, options: { ...plain.options, ...target } };
  const techniques = counted(project.techniques.size, 'technique');
  const cache = new RankCache();
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(question, cache));
  const report = rankReport(ranking, question.asOfDay);
  const alternatives = alternativesOf(question, ranking, cycles, cache);
  if (request.switches.has('json')) {
    const json = rankJson(report);
    printJson(io, cycles.length === 0 ? json : { ...json, alternatives: alternatives.map(alternativeJson) });
  } else {
    const style = styleOf(io);
    const sentence = targetSentence(report, formatTime);
    const words = {
      title: titleOf(project, io),
      basis: [
        basisOf(own, question, asked === undefined ? 'last' : 'asked'),
        ...(sentence === undefined ? [] : [sentence]),
      ],
      names: namesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      alternatives: alternatives.map(
        (one) => [one.technique, alternativeSentence(one, gainUnit(report))] as const,
      ),
      caution: cautionFor(own, question.asOfDay),
    };
    io.stdout.write(rankText(report, words, style));
  }
  if (loaded.refused.length > 0) return exit.wrong;
  return report.rows.length === 0 ? exit.findings : exit.fine;
}

/** The time to beat, in the terms of a ranking's options; nothing where the objective is time. */
function objectiveTarget(
  { project, own }: Subject,
  request: Request,
): { readonly target?: number } | { readonly message: string } {
  const asked = askedTarget(request);
  if (request.values.get('objective') !== 'target') {
    if (asked === undefined) return {};
    return { message: '--target goes with --objective target: by time, no target is needed.' };
  }
  if (request.values.has('explain'))
    return { message: '--explain shows seconds: leave out --objective target to have a row explained.' };
  if (project.segments.length === 0)
    return { message: 'The route has no segments yet, so there is no run that could beat a target.' };
  const target = targetOf(project, own, asked);
  return target === undefined
    ? {
        message:
          'There is no target to beat: give one with --target, or as target: in the week file or the route.',
      }
    : { target: target.seconds };
}
