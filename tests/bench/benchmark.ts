import { join } from 'node:path';
import { bundleBoth } from './bundles.ts';
import { measureEditing, type Editing } from './editing.ts';
import { measureLogging } from './logging.ts';
import { measureOdds } from './odds.ts';
import { measurePlanning } from './plan.ts';
import { measureRanking } from './ranking.ts';
import { general, generalAtOnce, own, root } from './servers.ts';
import { measureStart } from './starting.ts';
import type { Row } from './table.ts';

/** How much is measured. */
export interface Extent {
  /** Lengths of the generated routes, in lines; the last one's memory is what is shown. */
  readonly lines: readonly number[];
  /** Rounds of edits; each is one mistake made and mended in every server. */
  readonly edits: number;
  readonly starts: number;
  readonly rankings: number;
}

/** The generated files are the same in every run. */
const seed = 20250106;

const bareParse = '`yaml` library, whole-file parse in process';

/** Measures everything, saying on `progress` what comes next, and returns the rows of the table. */
export async function measureAll(extent: Extent, progress: (what: string) => void): Promise<Row[]> {
  const rows: Row[] = [];
  let last: Record<'own' | 'general' | 'atOnce', Editing> | undefined;
  for (const lines of extent.lines) {
    progress(`edits in a route of ${lines} lines`);
    const editing = await measureEditing({ own, general, atOnce: generalAtOnce }, lines, extent.edits, seed);
    last = editing.servers;
    rows.push(...editRows(lines, last, editing.parse));
  }
  if (last) rows.push(...memoryRows(last));
  progress('start-up');
  const { own: ownBundle, general: generalBundle } = await bundleBoth(join(root, 'tests/output/bench'));
  const bundled = { ...general, args: [generalBundle.file, '--stdio'] };
  const longest = Math.max(...extent.lines);
  const starts = await measureStart({ own, general, bundled }, longest, extent.starts, seed);
  const asBundle = `${general.name}, bundled by the same options`;
  const first = `First error shown after opening ${longest.toLocaleString('en')} lines, server just started`;
  rows.push(
    row('Process start to `initialize` answered', 'ms', starts.own.start, general.name, starts.general.start),
    row('the same', 'ms', starts.own.start, asBundle, starts.bundled.start),
    row(first, 'ms', starts.own.open, general.name, starts.general.open),
    row('the same', 'ms', starts.own.open, asBundle, starts.bundled.open),
    row('Server as one minified file', 'kB', [ownBundle.kilobytes], asBundle, [generalBundle.kilobytes]),
  );
  progress('ranking');
  const ranking = await measureRanking(seed, extent.rankings);
  const bareFiles = `${bareParse}, the same files`;
  rows.push(
    row('Rank 200 techniques, 2,000 blocks: nothing remembered', 'ms', ranking.cold, bareFiles, ranking.bare),
    row('… again after one new block', 'ms', ranking.oneMore, bareFiles, ranking.bare),
    row('… reading and checking the three files', 'ms', ranking.readFiles, bareFiles, ranking.bare),
  );
  progress('the odds of a run');
  rows.push(...(await measureOdds(seed, extent.rankings)));
  progress('logging');
  rows.push(...(await measureLogging(seed, extent.starts)));
  progress('planning');
  const plans = measurePlanning(seed, extent.rankings);
  const byRank = 'a legal plan in order of rank';
  rows.push(
    row('Plan four weeks, 30 techniques: searched', 'ms', plans.searched, byRank, plans.first),
    row(
      '… gain of the plan, of a bound that none can pass',
      '%',
      percent(plans.searchedShare),
      byRank,
      percent(plans.firstShare),
    ),
  );
  return rows;
}

function percent(shares: readonly number[]): number[] {
  return shares.map((share) => 100 * share);
}

function editRows(
  lines: number,
  measured: Record<'own' | 'general' | 'atOnce', Editing>,
  parse: readonly number[],
): Row[] {
  const what = `Edit to diagnostics, server idle before, route of ${lines.toLocaleString('en')} lines`;
  const { edits, typing } = measured.own;
  return [
    row(what, 'ms', edits, general.name, measured.general.edits),
    row('the same', 'ms', edits, generalAtOnce.name, measured.atOnce.edits),
    row('the same', 'ms', edits, bareParse, parse),
    row(
      '… typing on, half a second after the edit before',
      'ms',
      typing,
      general.name,
      measured.general.typing,
    ),
    row('the same', 'ms', typing, generalAtOnce.name, measured.atOnce.typing),
  ];
}

function memoryRows(measured: Record<'own' | 'general', Editing>): Row[] {
  if (measured.own.memory.length === 0) return [];
  return [
    row(
      '… resident memory after the edits',
      'MB',
      measured.own.memory,
      general.name,
      measured.general.memory,
    ),
    row(
      '… resident memory at its highest',
      'MB',
      measured.own.highestMemory,
      general.name,
      measured.general.highestMemory,
    ),
  ];
}

function row(what: string, unit: Row['unit'], ownSample: Row['own'], name: string, sample: Row['own']): Row {
  return { what, unit, own: ownSample, other: { name, sample } };
}
