import { resolveConstants } from '../../model/index.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { cycleAlternativeJson, cycleAlternativeSentence } from '../../reports/explain/cycleAlternative.ts';
import { gainFormat, gainUnitOf, targetSentence } from '../../reports/rank/gainFormat.ts';
import { rankJson } from '../../reports/rank/rankJson.ts';
import { rankPage } from '../../reports/rank/rankText.ts';
import { rankWithCycles } from '../../reports/rank/rankWithCycles.ts';
import { formatCount } from '../../text/format.ts';
import { formatTime } from '../../text/time.ts';
import { type Answer, answerHead, giveAnswer } from '../route/answer.ts';
import { type ChosenRoute, chooseRoute } from '../route/chooseRoute.ts';
import { explainRow } from '../route/explainRow.ts';
import { remembered } from '../route/remembered.ts';
import { readRankRequest } from '../route/rankRequest.ts';
import { rankTask, type RankTask } from '../route/rankTask.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright rank`: which technique to learn next; or one row of that ranking, explained. */
export async function rank(request: Request, io: Io): Promise<CommandResult> {
  const asked = readRankRequest(request);
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const task = rankTask(route, asked);
  if (isCliError(task)) return task;
  const { explained } = task;
  const answer = explained === undefined ? rankAll(task, route, io) : explainRow(task, explained, route, io);
  return giveAnswer(answer, route, io);
}

/** The whole ranking. */
function rankAll({ modelInput, cycles }: RankTask, route: ChosenRoute, io: Io): Answer {
  const progress = `Ranking ${formatCount(route.project.techniques.size, 'technique')}`;
  const names = techniqueNamesOf(route.project);
  const { report, alternatives, quickerRepeats } = remembered(
    io,
    progress,
    ['rank', modelInput, names, cycles],
    () => rankWithCycles(modelInput, names, cycles),
  );
  return {
    json: () => {
      const json = { ...rankJson(report), quickerRepeats: quickerRepeats.map(cycleAlternativeJson) };
      return cycles.length === 0 ? json : { ...json, alternatives: alternatives.map(cycleAlternativeJson) };
    },
    print: () => {
      const { basis, ...head } = answerHead(route, modelInput, io);
      const targetLine = targetSentence(report, formatTime);
      const gains = gainFormat(gainUnitOf(report));
      const labels = {
        ...head,
        basis: targetLine === undefined ? [basis] : [basis, targetLine],
        offsetPerStep: resolveConstants(modelInput.constants).midwayPerStep,
        alternatives: [...alternatives, ...quickerRepeats].map(
          (one) => [one.technique, cycleAlternativeSentence(one, gains)] as const,
        ),
        caution: overuseWarning(route.own, modelInput.asOfDay),
      };
      printPage(io, rankPage(report, labels));
    },
    empty: report.rows.length === 0,
  };
}
