import { join } from 'node:path';
import { expect, it } from 'vitest';
import { findTextEditors } from '../../editor/host/programs.ts';
import { runEditor } from './client.ts';
import { expectRenamed } from './renamed.ts';

const script = join(import.meta.dirname, 'emacs.el');

it('Emacs, set up by the README, shows findings, mends, points, completes and renames', async () => {
  const { emacs } = findTextEditors();
  const args = (settings: string) => ['--batch', '--load', settings, '--load', script];
  const options = { language: 'elisp', settings: 'init.el', limit: 90_000 };
  const { observed, files } = await runEditor(emacs, args, options);

  expect(observed.diagnostics).toEqual([
    { message: expect.stringContaining('No technique has the id') as unknown },
  ]);
  expect(observed.mended).toBe('- crate-vault');
  expect(observed.afterwards).toBe(0);
  expect(observed.hover).toContain('Tide skip');
  expect(observed.completions).toEqual(expect.arrayContaining(['tide-skip', 'crate-vault']));
  expectRenamed(files);
});
