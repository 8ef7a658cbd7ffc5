import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { removeFolder } from './folder.ts';
import { byTurns, type Sample } from './samples.ts';
import { cliBundle, root } from './servers.ts';
import { row, type Row } from './table.ts';

const preload = join(import.meta.dirname, 'cpuOfProcess.cjs');
const samples = join(root, 'samples');
/** Blocks in ten years of three evenings a week, four blocks each. */
const blocksInTenYears = 6_240;

/** A folder with the sample in it, and one for what the tool keeps. */
interface Place {
  readonly folder: string;
  readonly own: string;
}

function samplePlace(): Place {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-bench-'));
  for (const name of readdirSync(samples).filter((one) => one.endsWith('.yaml')))
    copyFileSync(join(samples, name), join(folder, name));
  return { folder, own: mkdtempSync(join(tmpdir(), 'routewright-bench-')) };
}

/** Milliseconds of processor time that Node uses from its start to its end with these arguments. */
function cpuOf({ folder, own }: Place, args: readonly string[]): Sample {
  const { status, stderr, output } = spawnSync(process.execPath, ['--require', preload, ...args], {
    cwd: folder,
    env: { ...process.env, ROUTEWRIGHT_STATE_HOME: own, ROUTEWRIGHT_CACHE_HOME: own },
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe', 'pipe'],
  });
  // 1: the sample has hints.
  if (status !== 0 && status !== 1) throw new Error(`${args.join(' ')} failed: ${stderr}`);
  return [Number(output[3]) / 1000];
}

/** Ten years of blocks as a table. */
function yearsOfBlocks(): string {
  const rows = Array.from({ length: blocksInTenYears }, (_, i) => {
    const day = new Date(Date.UTC(2016, 0, 1) + Math.floor((i / blocksInTenYears) * 3_650) * 86_400_000);
    return `${day.toISOString().slice(0, 10)}T19:${String(i % 60).padStart(2, '0')},crate-vault,20,${i % 15},20`;
  });
  return `start,technique,minutes,landed,tries\n${rows.join('\n')}\n`;
}

/** Measures the commands that people wait for, in processor time, by turns with a process of Node that does nothing. */
export async function measureCommands(rounds: number): Promise<Row[]> {
  const [place, early, late] = [samplePlace(), samplePlace(), samplePlace()];
  const block = [cliBundle, 'log', 'crate-vault', '--landed', '3', '--tries', '9'];
  const ask = (...args: readonly string[]) => cpuOf(place, [cliBundle, ...args, '--as-of', 'last']);
  try {
    writeFileSync(join(late.folder, 'years.csv'), yearsOfBlocks());
    writeFileSync(
      join(late.folder, 'lanternfall.practice.yaml'),
      'route: lanternfall.route.yaml\nsessions: []\n',
    );
    cpuOf(late, [cliBundle, 'log', '--import', 'years.csv']);
    for (const one of [early, late]) cpuOf(one, block);
    for (const command of ['rank', 'plan']) ask(command);
    const figures = await byTurns(rounds, {
      bare: () => cpuOf(place, ['-e', '0']),
      cold: () => {
        rmSync(join(place.own, 'routewright'), { recursive: true, force: true });
        return ask('rank');
      },
      kept: () => ask('rank'),
      check: () => ask('check'),
      checkKept: () => ask('check'),
      plan: () => {
        ask('plan');
        return ask('plan');
      },
      attempt: () => cpuOf(early, [cliBundle, 'log', 'crate-vault', '--landed']),
      early: () => cpuOf(early, block),
      late: () => cpuOf(late, block),
    });
    const line = (what: string, own: Sample): Row =>
      row(what, 'ms', own, '`node -e 0`, processor time', figures.bare);
    const years = blocksInTenYears.toLocaleString('en');
    return [
      line('Processor time of `rank` of the sample, nothing kept', figures.cold),
      line('… with the answer of an earlier process', figures.kept),
      line('… of `plan`, with the answer of an earlier process', figures.plan),
      line('… of `check`, nothing kept', figures.check),
      line('… of `check`, with the answer of an earlier process', figures.checkKept),
      line('… of `log` of an attempt', figures.attempt),
      line('… of `log` of a block, into the sample’s log', figures.early),
      line(`… of \`log\` of a block, after ten years, ${years} blocks`, figures.late),
    ];
  } finally {
    for (const { folder, own } of [place, early, late]) for (const one of [folder, own]) removeFolder(one);
  }
}
