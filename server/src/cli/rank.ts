import { rank as rankTechniques, resolveConstants } from '../model/index.ts';
import { counted } from '../reports/format.ts';
import { plainStyle, terminalStyle } from '../reports/plainText.ts';
import { rankJson } from '../reports/rankJson.ts';
import { rankReport } from '../reports/rankReport.ts';
import { rankText } from '../reports/rankText.ts';
import { questionOf } from '../workspace/question.ts';
import { asOfDay, type Request } from './arguments.ts';
import { cautionFor } from './caution.ts';
import { exit, printJson, styled, tell, withProgress, type Io } from './io.ts';
import { basisOf, isUnusable, namesOf, subjectOf, titleOf } from './subject.ts';

/** `routewright rank`: which technique to learn next. Returns the exit code. */
export async function rank(request: Request, io: Io): Promise<number> {
  const subject = await subjectOf(request, io, 'rank');
  if (isUnusable(subject)) {
    tell(io, subject.message);
    return exit.wrong;
  }
  const { project, own, loaded } = subject;
  const asked = asOfDay(request);
  const question = questionOf(project, own, asked, request.switches.has('all'));
  const techniques = counted(project.techniques.size, 'technique');
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(question));
  const report = rankReport(ranking, question.asOfDay);
  if (request.switches.has('json')) {
    printJson(io, rankJson(report));
  } else {
    const style = styled(io.stdout, io.env) ? terminalStyle : plainStyle;
    const words = {
      title: titleOf(project, io),
      basis: [basisOf(own, question, asked !== undefined)],
      names: namesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      caution: cautionFor(own, question.asOfDay),
    };
    io.stdout.write(rankText(report, words, style));
  }
  if (loaded.refused.length > 0) return exit.wrong;
  return report.rows.length === 0 ? exit.findings : exit.fine;
}
