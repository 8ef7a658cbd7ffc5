/**
 * Brings Chromium, ripgrep, Neovim, Emacs, zsh and fish before any test wants them:
 * `npx tsx tests/editor/host/bringPrograms.ts`.
 * Tests that each began an installation would stand in each other's way.
 */
import { HostProblem } from './problem.ts';
import { ensurePrograms, ensureShells, ensureTextEditors } from './programs.ts';

try {
  const say = (sentence: string): void => void process.stdout.write(`${sentence}\n`);
  await ensurePrograms({ compilers: false, say });
  await ensureTextEditors(say);
  await ensureShells(say);
} catch (error) {
  if (!(error instanceof HostProblem)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
