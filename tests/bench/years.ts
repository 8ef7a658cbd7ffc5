import { parseDocument } from 'yaml';
import { rank, ModelCache } from '../../server/src/model/index.ts';
import { planWeek } from '../../server/src/model/week/planWeek.ts';
import { buildWeekInput } from '../../server/src/queries/weekInput.ts';
import { makePractice, makeRuns, oneMoreSession } from './logs.ts';
import { projectOf, modelInputsOf, routeFile, type LoggedRoute } from './ranking.ts';
import { makeRoute } from './route.ts';
import { byTurns, timed } from './samples.ts';
import type { Row } from './table.ts';

const techniques = 200;
const weeks = 520;
/** Evenings of the week with practice, 0 for Monday. */
const evenings = [0, 2, 4];
const blocksAnEvening = 4;
const weeksAhead = 4;

const week = `route: ${routeFile}\ndays: { mon: 100, wed: 100, fri: 100 }\n`;

/** A route with ten years of logs: three evenings of practice a week, and runs every eighth day. */
export function makeYears(seed: number): LoggedRoute {
  const route = makeRoute(seed, { techniques });
  const blocks = weeks * evenings.length * blocksAnEvening;
  const dayOf = (night: number): number =>
    7 * Math.floor(night / evenings.length) + evenings[night % evenings.length]!;
  const practice = makePractice(seed + 1, route, routeFile, blocks, dayOf);
  const runs = makeRuns(seed + 2, route, routeFile, Math.floor((7 * weeks) / 8));
  return {
    texts: { route: route.text, practice, runs, week },
    practiceAfter: practice + oneMoreSession(route.techniques.at(-1)!, 7 * weeks),
  };
}

/** Ranks and plans by turns after ten years of logs, and parses the same files with the bare `yaml` library. */
export async function measureYears(seed: number, rounds: number, bareFiles: string): Promise<Row[]> {
  const made = makeYears(seed);
  const [before, after] = await modelInputsOf(made);
  const { project, own } = await projectOf(made.texts);
  let cache = new ModelCache();
  const { route, practice, runs } = made.texts;
  const samples = await byTurns(rounds, {
    cold: () => {
      cache = new ModelCache();
      return timed(() => rank(before, cache));
    },
    oneMore: () => timed(() => rank(after, cache)),
    plan: () =>
      timed(() => planWeek(buildWeekInput(project, own, weeksAhead, { asOf: after.asOfDay }).planInput)),
    bare: () => timed(() => [route, practice, runs].map((text) => parseDocument(text))),
  });
  const row = (what: string, own: readonly number[]): Row => ({
    what,
    unit: 'ms',
    own,
    other: { name: bareFiles, sample: samples.bare },
  });
  const blocks = (weeks * evenings.length * blocksAnEvening).toLocaleString('en');
  return [
    row(`Ten years of logs, 200 techniques, ${blocks} blocks: rank, nothing remembered`, samples.cold),
    row('… again after one new block', samples.oneMore),
    row('… plan four weeks, nothing remembered', samples.plan),
  ];
}
