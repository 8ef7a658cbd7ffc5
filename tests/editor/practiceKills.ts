/**
 * Kills the editor's extension host while attempts are logged by key presses in the practice view, and compares the
 * saved file with the acknowledged attempts: `npx tsx tests/editor/practiceKills.ts [KILLS] [SEED]`, after a build.
 * Twenty kills where no number is given.
 */
import { describeFailure } from './host/problem.ts';
import { killHosts } from './person/hostKills.ts';

try {
  const [kills = 20, seed = 20261005] = process.argv.slice(2).map(Number);
  const account = await killHosts(kills, seed);
  process.stdout.write(
    `${account.kills} kills, ${account.pressed} presses, ${account.acknowledged} acknowledged: all of them in the ` +
      `saved file, each once; ${account.unacknowledged} more were written before the view was told.\n`,
  );
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
