/**
 * Installs Chromium, ripgrep, Neovim, Emacs, zsh and fish before any test needs them: `npx tsx
 * tests/editor/host/bringPrograms.ts`. Several tests that each installed them at the same time would disturb one
 * another.
 */
import { HostProblem } from './problem.ts';
import { ensurePrograms, ensureTerminalPrograms, ensureTextEditors } from './programs.ts';

try {
  const say = (sentence: string): void => void process.stdout.write(`${sentence}\n`);
  await ensurePrograms({ compilers: false, say });
  await ensureTextEditors(say);
  await ensureTerminalPrograms(say);
} catch (error) {
  if (!(error instanceof HostProblem)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
