import { join } from 'node:path';
import { expect, it } from 'vitest';
import { findTextEditors } from '../../editor/host/programs.ts';
import { runEditor } from './client.ts';
import { expectRenamed } from './renamed.ts';

const script = join(import.meta.dirname, 'neovim.lua');

it('Neovim, set up by the README, shows findings, mends, points, completes, renames and has lenses at once', async () => {
  const { neovim } = findTextEditors();
  const args = (settings: string) => ['--headless', '-u', settings, '-c', `luafile ${script}`];
  const options = { language: 'lua', settings: 'init.lua', limit: 150_000 };
  const { observed, files } = await runEditor(neovim, args, options);

  expect(observed.lenses?.some((title) => /no\. 1 (to learn next|in the ranking) · /i.test(title))).toBe(
    true,
  );
  expect(observed.lenses?.filter((title) => title.startsWith('Expected ')).length).toBeGreaterThan(5);
  expect(observed.diagnostics).toEqual([
    { code: 'unknown-technique', message: expect.stringContaining('crate-valt') as unknown },
  ]);
  expect(observed.mended.trim()).toBe('- crate-vault');
  expect(observed.afterwards).toBe(0);
  expect(observed.hover).toContain('Tide skip');
  expect(observed.completions).toEqual(expect.arrayContaining(['tide-skip', 'crate-vault']));
  expectRenamed(files);
});
