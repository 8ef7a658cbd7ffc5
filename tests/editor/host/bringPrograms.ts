/**
 * Brings Chromium and ripgrep before any test wants them: `npx tsx tests/editor/host/bringPrograms.ts`.
 * Tests that each began an installation would stand in each other's way.
 */
import { HostProblem } from './problem.ts';
import { ensurePrograms } from './programs.ts';

try {
  await ensurePrograms({ compilers: false, say: (sentence) => process.stdout.write(`${sentence}\n`) });
} catch (error) {
  if (!(error instanceof HostProblem)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
