import { rank as rankTechniques, resolveConstants } from '../model/index.ts';
import { RankCache } from '../model/memory.ts';
import { alternativeJson, alternativeSentence } from '../reports/alternatives.ts';
import { counted } from '../reports/format.ts';
import { plainStyle, terminalStyle } from '../reports/plainText.ts';
import { rankJson } from '../reports/rankJson.ts';
import { rankReport } from '../reports/rankReport.ts';
import { rankText } from '../reports/rankText.ts';
import { basisOf } from '../workspace/basis.ts';
import { namesOf } from '../workspace/names.ts';
import { questionOf } from '../workspace/question.ts';
import { asOfDay, type Request } from './arguments.ts';
import { cautionFor } from '../workspace/caution.ts';
import { alternativesOf, cyclesOf, explainRow } from './explain.ts';
import { exit, printJson, styled, tell, withProgress, type Io } from './io.ts';
import { isUnusable, subjectOf, titleOf } from './subject.ts';

/** `routewright rank`: which technique to learn next. Returns the exit code. */
export async function rank(request: Request, io: Io): Promise<number> {
  const subject = await subjectOf(request, io, 'rank');
  if (isUnusable(subject)) {
    tell(io, subject.message);
    return exit.wrong;
  }
  const { project, own, loaded } = subject;
  const explained = request.values.get('explain');
  if (explained !== undefined) return explainRow(subject, request, io, explained);
  const cycles = cyclesOf(subject, request);
  if (isUnusable(cycles)) {
    tell(io, cycles.message);
    return exit.wrong;
  }
  const asked = asOfDay(request);
  const question = questionOf(project, own, { asOf: asked, all: request.switches.has('all') });
  const techniques = counted(project.techniques.size, 'technique');
  const cache = new RankCache();
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(question, cache));
  const report = rankReport(ranking, question.asOfDay);
  const alternatives = alternativesOf(question, ranking, cycles, cache);
  if (request.switches.has('json')) {
    const json = rankJson(report);
    printJson(io, cycles.length === 0 ? json : { ...json, alternatives: alternatives.map(alternativeJson) });
  } else {
    const style = styled(io.stdout, io.env) ? terminalStyle : plainStyle;
    const words = {
      title: titleOf(project, io),
      basis: [basisOf(own, question, asked === undefined ? 'last' : 'asked')],
      names: namesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      alternatives: alternatives.map((one) => [one.technique, alternativeSentence(one)] as const),
      caution: cautionFor(own, question.asOfDay),
    };
    io.stdout.write(rankText(report, words, style));
  }
  if (loaded.refused.length > 0) return exit.wrong;
  return report.rows.length === 0 ? exit.findings : exit.fine;
}
