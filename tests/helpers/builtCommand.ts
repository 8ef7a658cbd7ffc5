/** The built command line under its own name, for tests that call it in a shell as a person does. */
import { execFile } from 'node:child_process';
import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { promisify } from 'node:util';

const repository = join(import.meta.dirname, '../..');

export interface BuiltCommand {
  /**
   * An environment in which `routewright` and `npx routewright` run the built command, with a state folder of its own.
   */
  readonly env: NodeJS.ProcessEnv;
  /** The bundled script, for a test that starts it without a shell. */
  readonly script: string;
  remove(): Promise<void>;
}

/** Builds the command line into a folder of its own, with programs `routewright` and `npx` that run it. */
export async function buildCommand(): Promise<BuiltCommand> {
  const folder = await mkdtemp(join(tmpdir(), 'routewright-command-'));
  await promisify(execFile)(process.execPath, ['build.mjs', '--into', folder], { cwd: repository });
  await writeFile(join(folder, 'server/package.json'), '{ "type": "module" }\n');
  const bin = join(folder, 'bin');
  await mkdir(bin);
  const program = async (name: string, text: string): Promise<void> => {
    await writeFile(join(bin, name), `#!/bin/sh\n${text}\n`);
    await chmod(join(bin, name), 0o755);
  };
  const cli = join(folder, 'server/dist/cli.js');
  await program('routewright', `exec '${process.execPath}' '${cli}' "$@"`);
  // `npx` runs `routewright` only: a page that names another program fails its test.
  await program('npx', `[ "$1" = routewright ] || exit 127\nexec "$@"`);
  return {
    env: {
      ...process.env,
      PATH: `${bin}${delimiter}${process.env['PATH'] ?? ''}`,
      ROUTEWRIGHT_STATE_HOME: join(folder, 'state'),
      HOME: folder,
      XDG_CONFIG_HOME: join(folder, 'config'),
      XDG_STATE_HOME: join(folder, 'state'),
      XDG_DATA_HOME: join(folder, 'data'),
      XDG_CACHE_HOME: join(folder, 'cache'),
    },
    script: cli,
    remove: () => rm(folder, { recursive: true, force: true, maxRetries: 3 }),
  };
}
