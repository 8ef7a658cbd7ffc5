import { parseDocument } from 'yaml';
import { rank, ModelCache } from '../../server/src/model/index.ts';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { memoryFileSource } from '../../server/src/workspace/fileSource.ts';
import { buildModelInput, type ModelInput } from '../../server/src/queries/modelInput.ts';
import type { Project } from '../../server/src/workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { makePractice, makeRuns, oneMoreSession } from './logs.ts';
import { makeRoute } from './route.ts';
import { byTurns, timed } from './samples.ts';
import { answerDayOf } from '../../server/src/queries/answerDay.ts';
import { lastDay } from '../helpers/lastDay.ts';

/** How large a route's logs are. */
export interface Logged {
  readonly techniques: number;
  readonly blocks: number;
  /** Evenings of runs. */
  readonly evenings: number;
}

const usual: Logged = { techniques: 200, blocks: 2_000, evenings: 60 };

const names = {
  route: 'lanternfall.route.yaml',
  practice: 'lanternfall.practice.yaml',
  runs: 'lanternfall.runs.yaml',
  week: 'lanternfall.week.yaml',
} as const;

/** Name of the route file that the generated logs belong to. */
export const routeFile = names.route;

/** A generated route with its logs, and a second practice log with one more block. */
export interface LoggedRoute {
  readonly texts: {
    readonly route: string;
    readonly practice: string;
    readonly runs: string;
    readonly week?: string;
  };
  readonly practiceAfter: string;
}

/**
 * Makes a route with its logs. Without a second argument: 200 techniques, 2,000 blocks of practice and 60 evenings of
 * runs.
 */
export function makeLoggedRoute(seed: number, { techniques, blocks, evenings }: Logged = usual): LoggedRoute {
  const route = makeRoute(seed, { techniques });
  const practice = makePractice(seed + 1, route, names.route, blocks);
  const [technique] = route.techniques.slice(-1);
  return {
    texts: { route: route.text, practice, runs: makeRuns(seed + 2, route, names.route, evenings) },
    practiceAfter: technique ? practice + oneMoreSession(technique, Math.ceil(blocks / 4)) : practice,
  };
}

const uriOf = (kind: keyof typeof names): string => `file:///bench/${names[kind]}`;

async function workspaceOf(texts: LoggedRoute['texts']): Promise<Workspace> {
  const files = Object.entries(texts).map(([kind, text]) => [uriOf(kind as keyof typeof names), text]);
  const workspace = new Workspace(memoryFileSource(Object.fromEntries(files) as Record<string, string>), [
    'file:///bench',
  ]);
  await workspace.load();
  return workspace;
}

function projectIn(workspace: Workspace): { project: Project; own: RunnerFiles } {
  const project = workspace.projectOf(uriOf('route'));
  const own = project && runnerFilesOf(project);
  if (!own || 'runners' in own) throw new Error('The generated files make no project.');
  return { project, own };
}

/** The project of generated texts. */
export async function projectOf(
  texts: LoggedRoute['texts'],
): Promise<{ project: Project; own: RunnerFiles }> {
  return projectIn(await workspaceOf(texts));
}

/** The model inputs of a logged route before and after the new block, both for the morning after it. */
export async function modelInputsOf({
  texts,
  practiceAfter,
}: LoggedRoute): Promise<[ModelInput, ModelInput]> {
  const workspace = await workspaceOf(texts);
  const ask = (asOf?: number): ModelInput => {
    const { project, own } = projectIn(workspace);
    return buildModelInput(project, own, { asOf: asOf ?? answerDayOf(own, lastDay).day });
  };
  workspace.edit(uriOf('practice'), practiceAfter);
  const after = ask();
  workspace.edit(uriOf('practice'), texts.practice);
  return [ask(after.asOfDay), after];
}

/**
 * Measures, by turns, a ranking without and with the cache of an earlier ranking, and the reading of the same files;
 * milliseconds.
 */
export async function measureRanking(seed: number, rounds: number) {
  const made = makeLoggedRoute(seed);
  const [before, after] = await modelInputsOf(made);
  const { route, practice, runs } = made.texts;
  let cache = new ModelCache();
  return byTurns(rounds, {
    cold: () => {
      cache = new ModelCache();
      return timed(() => rank(before, cache));
    },
    oneMore: () => timed(() => rank(after, cache)),
    readFiles: () =>
      timed(() => [readSource('route', route), readSource('practice', practice), readSource('runs', runs)]),
    bare: () => timed(() => [route, practice, runs].map((text) => parseDocument(text))),
  });
}
