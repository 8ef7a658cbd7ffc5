import { rank as rankTechniques, resolveConstants } from '../../model/index.ts';
import {
  findObjective,
  objectiveOptions,
  objectives,
  type ObjectiveOptions,
} from '../../model/rank/objectives/objectives.ts';
import { ModelCache } from '../../model/core/modelCache.ts';
import { cycleAlternativeJson, cycleAlternativeSentence } from '../../reports/explain/cycleAlternative.ts';
import { formatTime } from '../../text/time.ts';
import { formatCount } from '../../text/format.ts';
import { gainFormat, gainUnitOf, targetSentence } from '../../reports/rank/gainFormat.ts';
import { rankJson } from '../../reports/rank/rankJson.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { rankText } from '../../reports/rank/rankText.ts';
import { basisText } from '../../reports/basisText.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { resolveTarget } from '../../queries/target.ts';
import { targetOption, asOfDay, type Request } from '../terminal/arguments.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { alternativesOf, cyclesOf, explainRow } from './explain.ts';
import { exitCodes, printJson, printNotice, withProgress, type Io } from '../terminal/io.ts';
import { styleOf } from '../terminal/print.ts';
import { isInputError, chooseRoute, titleOf, type ChosenRoute } from '../project/chosenRoute.ts';

/** `routewright rank`: which technique to learn next. Returns the exit code. */
export async function rank(request: Request, io: Io): Promise<number> {
  const subject = await chooseRoute(request, io, 'rank');
  if (isInputError(subject)) {
    printNotice(io, subject.message);
    return exitCodes.wrong;
  }
  const { project, own, loaded } = subject;
  const cycles = cyclesOf(subject, request);
  if (isInputError(cycles)) {
    printNotice(io, cycles.message);
    return exitCodes.wrong;
  }
  const objective = chosenObjective(subject, request);
  if (isInputError(objective)) {
    printNotice(io, objective.message);
    return exitCodes.wrong;
  }
  const explained = request.values.get('explain');
  if (explained !== undefined) return explainRow(subject, request, io, explained);
  const asked = asOfDay(request);
  const plain = buildModelInput(project, own, { asOf: asked, all: request.switches.has('all') });
  const question = { ...plain, options: { ...plain.options, ...objective } };
  const techniques = formatCount(project.techniques.size, 'technique');
  const cache = new ModelCache();
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(question, cache));
  const report = rankReport(ranking, question.asOfDay);
  const alternatives = alternativesOf(question, ranking, cycles, cache);
  if (request.switches.has('json')) {
    const json = rankJson(report);
    printJson(
      io,
      cycles.length === 0 ? json : { ...json, alternatives: alternatives.map(cycleAlternativeJson) },
    );
  } else {
    const style = styleOf(io);
    const sentence = targetSentence(report, formatTime);
    const words = {
      title: titleOf(project, io),
      basis: [
        basisText(own, question, asked === undefined ? 'last' : 'asked'),
        ...(sentence === undefined ? [] : [sentence]),
      ],
      names: techniqueNamesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      alternatives: alternatives.map(
        (one) => [one.technique, cycleAlternativeSentence(one, gainFormat(gainUnitOf(report)))] as const,
      ),
      caution: overuseWarning(own, question.asOfDay),
    };
    io.stdout.write(rankText(report, words, style));
  }
  if (loaded.refused.length > 0) return exitCodes.wrong;
  return report.rows.length === 0 ? exitCodes.findings : exitCodes.fine;
}

/** What the ranking is by, with the time to beat where that is needed. */
function chosenObjective(
  { project, own }: ChosenRoute,
  request: Request,
): ObjectiveOptions | { readonly message: string } {
  const asked = targetOption(request);
  const { id, needs } = findObjective(request.values.get('objective'));
  if (asked !== undefined && needs !== 'target') {
    const others = objectives.filter((other) => other.needs === 'target').map((other) => other.id);
    return {
      message: `--target goes with --objective ${others.join(' or ')}: by ${id}, no target is needed.`,
    };
  }
  if (request.values.has('explain') && id !== objectives[0].id)
    return { message: `--explain shows seconds: leave out --objective ${id} to have a row explained.` };
  if (needs === undefined) return objectiveOptions(id, {});
  if (project.segments.length === 0)
    return { message: 'The route has no segments yet, so there is no run that could beat a target.' };
  const target = resolveTarget(project, own, asked);
  return target === undefined
    ? {
        message:
          'There is no target to beat: give one with --target, or as target: in the week file or the route.',
      }
    : objectiveOptions(id, { target: target.seconds });
}
