/** An editor that runs a script of a test on a copy of the sample, with the server as the README sets it up. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { runCommand } from '../../editor/host/command.ts';
import { buildCommand, type BuiltCommand } from '../../helpers/builtCommand.ts';
import { codeBlocks } from '../../helpers/codeBlocks.ts';

const repository = join(import.meta.dirname, '../../..');

/** What the scripts write down, each as far as its editor goes. */
export interface Observed {
  /** Titles of the code lenses that the first request brought. */
  readonly lenses?: readonly string[];
  /** Codes of the findings in a route with a mistyped name, and messages. */
  readonly diagnostics: readonly { readonly code?: string; readonly message: string }[];
  /** The line with the mistyped name after the code action, and what was found after it. */
  readonly mended: string;
  readonly afterwards: number;
  readonly hover: string;
  readonly completions: readonly string[];
}

export interface Session {
  readonly observed: Observed;
  /** The sample's files as the editor left them, by kind. */
  readonly files: Readonly<Record<'route' | 'practice' | 'runs' | 'week', string>>;
}

/** The only block of that language in server/README.md: what a person copies into the editor's own settings. */
export async function snippet(language: string): Promise<string> {
  const blocks = codeBlocks(await readFile(join(repository, 'server/README.md'), 'utf8'), language);
  expect(blocks).toHaveLength(1);
  return blocks[0]!;
}

/**
 * Runs an editor in a copy of the sample. Its script finds the environment variable OBSERVED, a file to write JSON to.
 *
 * @param limit milliseconds after which the editor is killed
 */
export async function runEditor(
  program: string,
  args: (settings: string) => readonly string[],
  options: { readonly language: string; readonly settings: string; readonly limit: number },
): Promise<Session> {
  const folder = await mkdtemp(join(tmpdir(), 'routewright-editor-'));
  let command: BuiltCommand | undefined;
  try {
    command = await buildCommand();
    const samples = join(folder, 'samples');
    await cp(join(repository, 'samples'), samples, {
      recursive: true,
      // One runner's files are enough for what an editor is set up to do.
      filter: (file) => !/\.ts$|\/(simulation|runners)$/.test(file),
    });
    const settings = join(folder, options.settings);
    await writeFile(settings, await snippet(options.language));
    const observed = join(folder, 'observed.json');
    const env = { ...command.env, OBSERVED: observed };
    const { code, output } = await runCommand(program, args(settings), {
      cwd: samples,
      env,
      limit: options.limit,
    });
    expect(code, output).toBe(0);
    const file = (kind: string) => readFile(join(samples, `lanternfall.${kind}.yaml`), 'utf8');
    const [route, practice, runs, week] = await Promise.all(['route', 'practice', 'runs', 'week'].map(file));
    return {
      observed: JSON.parse(await readFile(observed, 'utf8')) as Observed,
      files: { route: route!, practice: practice!, runs: runs!, week: week! },
    };
  } finally {
    await command?.remove();
    await rm(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}
