import { writeSync } from 'node:fs';
import { argv, cwd, env } from 'node:process';
import { runCommandLine } from '../../server/src/cli/run.ts';
import { momentNow, systemClock } from '../../server/src/journal/clock.ts';
import type { Io } from '../../server/src/cli/terminal/io.ts';
import { chance } from '../arena/random.ts';

/*
 * Logs attempts without a pause, through the same code as the command line, until it is killed or its time is up.
 * Prints a line for each attempt once it is acknowledged: its id and its letter. A share of the attempts, 0.06 where none
 * is given, is the last of its block.
 */
const [, , seed = '1', seconds = '60', ends = '0.06'] = argv;
const { next: random } = chance(Number(seed));
const until = Date.now() + Number(seconds) * 1000;

const io: Io = {
  cwd: cwd(),
  env,
  stdout: {
    write(text) {
      const { entry } = JSON.parse(text) as { entry: { kind: string; id: string; landed: boolean } };
      if (entry.kind === 'attempt') writeSync(1, `${entry.id} ${entry.landed ? 'l' : 'm'}\n`);
    },
    isTTY: false,
  },
  stderr: { write: () => undefined, isTTY: false },
  now: () => momentNow(systemClock),
};
const serve = () => Promise.reject(new Error('No server is started here.'));

while (Date.now() < until) {
  const what = random() < 0.6 ? '--landed' : '--missed';
  await runCommandLine(['log', 'crate-vault', what, '--json'], io, serve);
  // A block's end folds it into the file.
  if (random() < Number(ends)) await runCommandLine(['log', '--end', '--json'], io, serve);
}
