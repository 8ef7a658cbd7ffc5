import { parseDocument } from 'yaml';
import { rank, RankCache } from '../../server/src/model/index.ts';
import { read } from '../../server/src/files/read.ts';
import { memoryFiles } from '../../server/src/workspace/fileSource.ts';
import { questionOf, type Question } from '../../server/src/workspace/question.ts';
import { ownPart } from '../../server/src/workspace/runner.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { makePractice, makeRuns, oneMoreSession } from './logs.ts';
import { makeRoute } from './route.ts';
import { byTurns, timed } from './samples.ts';

const techniques = 200;
const blocks = 2000;
const evenings = 60;
const nights = 500;

const names = {
  route: 'lanternfall.route.yaml',
  practice: 'lanternfall.practice.yaml',
  runs: 'lanternfall.runs.yaml',
} as const;

/** A route with its logs, as generated, and the practice log again with one block more. */
export interface LoggedRoute {
  readonly texts: Readonly<Record<keyof typeof names, string>>;
  readonly practiceAfter: string;
}

/** Makes a route of 200 techniques, 2,000 blocks of practice and 60 evenings of runs. */
export function makeLoggedRoute(seed: number): LoggedRoute {
  const route = makeRoute(seed, { techniques });
  const practice = makePractice(seed + 1, route, names.route, blocks);
  const [technique] = route.techniques.slice(-1);
  return {
    texts: { route: route.text, practice, runs: makeRuns(seed + 2, route, names.route, evenings) },
    practiceAfter: technique ? practice + oneMoreSession(technique, nights) : practice,
  };
}

/** What the model is asked about a logged route before and after the new block, both on the morning after it. */
export async function questionsOf({ texts, practiceAfter }: LoggedRoute): Promise<[Question, Question]> {
  const uri = (kind: keyof typeof names): string => `file:///bench/${names[kind]}`;
  const files = { [uri('route')]: texts.route, [uri('practice')]: texts.practice, [uri('runs')]: texts.runs };
  const workspace = new Workspace(memoryFiles(files), ['file:///bench']);
  await workspace.load();
  const ask = (asOf?: number): Question => {
    const project = workspace.projectOf(uri('route'));
    const own = project && ownPart(project);
    if (!own || 'runners' in own) throw new Error('The generated files make no project.');
    return questionOf(project, own, { asOf });
  };
  workspace.edit(uri('practice'), practiceAfter);
  const after = ask();
  workspace.edit(uri('practice'), texts.practice);
  return [ask(after.asOfDay), after];
}

/** Ranks by turns without and with what an earlier ranking remembered, and reads the same files; milliseconds. */
export async function measureRanking(seed: number, rounds: number) {
  const made = makeLoggedRoute(seed);
  const [before, after] = await questionsOf(made);
  const { route, practice, runs } = made.texts;
  let cache = new RankCache();
  return byTurns(rounds, {
    cold: () => {
      cache = new RankCache();
      return timed(() => rank(before, cache));
    },
    oneMore: () => timed(() => rank(after, cache)),
    readFiles: () => timed(() => [read('route', route), read('practice', practice), read('runs', runs)]),
    bare: () => timed(() => [route, practice, runs].map((text) => parseDocument(text))),
  });
}
