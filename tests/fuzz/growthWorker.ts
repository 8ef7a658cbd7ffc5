/** A thread that measures how long the same takes with files of different sizes, in processor time. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parentPort, workerData } from 'node:worker_threads';
import { runCommandLine } from '../../server/src/cli/run.ts';
import type { Io, OutputSink } from '../../server/src/cli/terminal/io.ts';
import { fileKindOf } from '../../server/src/files/fileKind.ts';
import { chance } from '../arena/random.ts';
import { afterAllLogs } from '../helpers/lastDay.ts';
import { findingsOf } from '../unit/rules/findingsOf.ts';
import type { GrowthJob, GrowthSaid, GrowthTask } from './growthTask.ts';
import { plants } from './plants.ts';
import { probeFeatures, probeReader } from './probes.ts';

const { jobs, plant } = workerData as GrowthTask;
const reader = plants[plant as keyof typeof plants];
const folder = mkdtempSync(join(tmpdir(), 'growth-'));

const say = (said: GrowthSaid): void => parentPort?.postMessage(said);

/** Does what the job says with the files of one size; the files of a command lie on the disk. */
async function perform({ way, file }: GrowthJob, files: Readonly<Record<string, string>>): Promise<void> {
  const kind = fileKindOf(file)!;
  const text = files[file]!;
  if (way === 'reader') probeReader({ kind, text }, `${text}x-last: 1\n`, reader);
  else if (way === 'rules') await findingsOf(files);
  else if (way === 'features')
    await probeFeatures({ kind, text }, chance(7), { places: 1, ends: true, ranks: false, files });
  else {
    const silent: OutputSink = { write: () => undefined, isTTY: false };
    const env = { ROUTEWRIGHT_STATE_HOME: join(folder, 'state') };
    const io: Io = { cwd: folder, env, stdout: silent, stderr: silent, now: () => afterAllLogs };
    await runCommandLine(way, io, () => Promise.reject(new Error('No server is started here.')));
  }
}

async function measure(job: number, size: number): Promise<void> {
  const files = jobs[job]!.sizes[size]!;
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  say({ type: 'begins', job, size });
  const from = process.cpuUsage();
  try {
    await perform(jobs[job]!, files);
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    say({ type: 'failed', job, error: text });
  }
  const { user, system } = process.cpuUsage(from);
  say({ type: 'took', job, size, ms: (user + system) / 1000 });
  for (const name of Object.keys(files)) rmSync(join(folder, name));
}

for (const [job, { sizes }] of jobs.entries()) for (const size of sizes.keys()) await measure(job, size);
rmSync(folder, { recursive: true, force: true });
say({ type: 'done' });
