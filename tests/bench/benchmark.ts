import { join } from 'node:path';
import { askingRows } from './asking.ts';
import { asBundle, bundleBoth, measureSizes } from './bundles.ts';
import { burstRows } from './burst.ts';
import { measureChecking } from './checking.ts';
import { measureCommands } from './commands.ts';
import { editRows, measureEditing, memoryRows } from './editing.ts';
import { lastingRows } from './lasting.ts';
import { makeLargeSegment } from './large.ts';
import { measureLogging } from './logging.ts';
import { measureOdds } from './odds.ts';
import { planRows } from './plan.ts';
import { measureRanking } from './ranking.ts';
import { measurePooling } from './pooling.ts';
import { makeRoute } from './route.ts';
import { empty, general, generalAtOnce, own, root } from './servers.ts';
import { measureStart } from './starting.ts';
import { row, type Row } from './table.ts';
import { measureYears } from './years.ts';

/** How many measurements are made, and on how large files. */
export interface Extent {
  /** Lengths of the generated routes, in lines. A measurement that needs only one length takes the middle one. */
  readonly lines: readonly number[];
  /** Rounds of edits; in each, one mistake is made and corrected in every server. */
  readonly edits: number;
  readonly starts: number;
  readonly rankings: number;
  /** Requests of each kind, and bursts of keys. */
  readonly questions: number;
  /** Edits in a row in Routewright and in the general server, before their memory is measured. */
  readonly lasting: { readonly own: number; readonly general: number };
  /** Rankings and plans after ten years of logs. */
  readonly years: number;
  /** How many routes are in the checked folder, and how often it is checked. */
  readonly routes: number;
  readonly checks: number;
  /** Of how many runners a pool is made, and how often. */
  readonly runners: number;
  readonly pools: number;
}

/** Some lines of the table, measured together. */
interface Group {
  readonly name: string;
  readonly measure: (extent: Extent) => Promise<Row[]>;
}

/** The generated files are the same in every run. */
const seed = 20250106;

const bareParse = '`yaml` library, whole-file parse in process';
const bareFiles = `${bareParse}, the same files`;

/**
 * Routes longer than this, in lines, are edited in a sixth of the rounds: the other servers take a second for each
 * edit.
 */
const longRouteLines = 20_000;
/** As long as the sample, about what somebody writes by hand. */
const usualRouteLines = 400;
/** Lines of the one large segment. */
const largeSegmentLines = 9_000;

const middle = ({ lines }: Extent): number => lines[lines.length >> 1]!;

const groups: readonly Group[] = [
  { name: 'edits', measure: edits },
  { name: 'one large segment', measure: largeSegment },
  { name: 'a burst of keys', measure: (extent) => burstRows(middle(extent), extent.questions, seed) },
  { name: 'completion and hover', measure: (extent) => askingRows(middle(extent), extent.questions, seed) },
  { name: 'memory over an hour', measure: (extent) => lastingRows(middle(extent), extent.lasting, seed) },
  { name: 'start-up', measure: starts },
  { name: 'sizes', measure: measureSizes },
  { name: 'ranking', measure: ranking },
  { name: 'ten years of logs', measure: ({ years }) => measureYears(seed, years, bareFiles) },
  { name: 'the odds of a run', measure: ({ rankings }) => measureOdds(seed, rankings) },
  { name: 'logging', measure: (extent) => measureLogging(seed, extent.starts) },
  { name: 'commands', measure: ({ starts }) => measureCommands(starts) },
  { name: 'planning', measure: ({ rankings }) => Promise.resolve(planRows(seed, rankings)) },
  { name: 'check', measure: ({ routes, checks }) => measureChecking(seed, routes, checks) },
  { name: 'pool', measure: ({ runners, pools }) => measurePooling(seed, runners, pools) },
];

/**
 * Measures everything and returns the rows of the table; `progress` gets a text before each measurement.
 *
 * @param only a word; groups whose name does not contain it are left out
 */
export async function measureAll(
  extent: Extent,
  progress: (what: string) => void,
  only = '',
): Promise<Row[]> {
  const rows: Row[] = [];
  for (const { name, measure } of groups.filter((group) => group.name.includes(only))) {
    progress(name);
    rows.push(...(await measure(extent)));
  }
  return rows;
}

/** Names of the groups, in the order of the table. */
export const groupNames: readonly string[] = groups.map(({ name }) => name);

async function edits(extent: Extent): Promise<Row[]> {
  const rows: Row[] = [];
  for (const lines of extent.lines) {
    const { text } = makeRoute(seed, { lines });
    const rounds = lines > longRouteLines ? Math.ceil(extent.edits / 6) : extent.edits;
    const { servers, parse } = await measureEditing(
      { own, general, atOnce: generalAtOnce, empty },
      text,
      rounds,
      seed,
    );
    rows.push(...editRows(`route of ${lines.toLocaleString('en')} lines`, servers, parse, bareParse));
    if (lines === middle(extent)) rows.push(...memoryRows(servers));
  }
  return rows;
}

/** The same edits in a route of about the same length whose lines are all in one segment, and in a usual one. */
async function largeSegment(extent: Extent): Promise<Row[]> {
  const usual = makeRoute(seed, { lines: largeSegmentLines + 1_000 }).text;
  const text = makeLargeSegment(seed, largeSegmentLines);
  const rounds = Math.ceil(extent.edits / 2);
  const inLarge = {
    from: text.indexOf('- id: long-way-down'),
    to: text.indexOf('\n  - id: ', text.indexOf('ledge-1')),
  };
  const one = await measureEditing({ own, atOnce: generalAtOnce }, text, rounds, seed, inLarge);
  const other = await measureEditing({ own }, usual, rounds, seed);
  const what = `Edit to diagnostics inside one segment of ${largeSegmentLines.toLocaleString('en')} lines`;
  return [
    row(what, 'ms', one.servers.own.edits, generalAtOnce.name, one.servers.atOnce.edits),
    row(
      'the same',
      'ms',
      one.servers.own.edits,
      'a usual route as long, Routewright',
      other.servers.own.edits,
    ),
  ];
}

async function starts(extent: Extent): Promise<Row[]> {
  const { general: generalBundle } = await bundleBoth(join(root, 'tests/output/bench'));
  const bundled = { ...general, args: [generalBundle.file, '--stdio'] };
  const lines = middle(extent);
  const servers = { own, general, bundled };
  const measured = await measureStart(servers, lines, extent.starts, seed);
  const usual = await measureStart(servers, usualRouteLines, extent.starts, seed);
  const against = (what: string, of: 'start' | 'open' | 'all', from = measured): Row[] => [
    row(what, 'ms', from.own[of], general.name, from.general[of]),
    row('the same', 'ms', from.own[of], asBundle, from.bundled[of]),
  ];
  const route = `${lines.toLocaleString('en')} lines`;
  return [
    ...against('Process start to `initialize` answered', 'start'),
    ...against(`First error shown after opening ${route}, server just started`, 'open'),
    ...against(`Process start to the first error shown, ${route}`, 'all'),
    ...against(`… a usual route, ${usualRouteLines} lines`, 'all', usual),
  ];
}

async function ranking({ rankings }: Extent): Promise<Row[]> {
  const measured = await measureRanking(seed, rankings);
  return [
    row(
      'Rank 200 techniques, 2,000 blocks: nothing remembered',
      'ms',
      measured.cold,
      bareFiles,
      measured.bare,
    ),
    row('… again after one new block', 'ms', measured.oneMore, bareFiles, measured.bare),
    row('… reading and checking the three files', 'ms', measured.readFiles, bareFiles, measured.bare),
  ];
}
