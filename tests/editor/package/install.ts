import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { makePackages } from '../../package/packages.ts';
import { installHost } from '../host/install.ts';

const run = promisify(execFile);

/** The extension, packed into a VSIX file and installed from it. */
export interface Installed {
  /** The folder of installed extensions, to be given to the editor. */
  readonly extensionsDir: string;
  /** Removes the installed extension. */
  remove(): Promise<void>;
}

/** Packs the extension and lets the editor install it from the file, into a separate folder. */
export async function installFromFile(): Promise<Installed> {
  const host = await installHost();
  const folder = await mkdtemp(join(tmpdir(), 'editor-package-'));
  const remove = (): Promise<void> => rm(folder, { recursive: true, force: true, maxRetries: 5 });
  try {
    const { vsix } = await makePackages(folder);
    const extensionsDir = join(folder, 'extensions');
    await mkdir(extensionsDir);
    const flags = ['--extensions-dir', extensionsDir, '--server-data-dir', join(folder, 'data')];
    const args = [host.main, '--install-extension', vsix, ...flags, '--accept-server-license-terms'];
    const { stdout, stderr } = await run(host.node, args, { cwd: host.folder });
    const names = await readdir(extensionsDir);
    if (!names.some((name) => name.startsWith('routewright.routewright-')))
      throw new Error(`The editor did not install ${vsix}:\n${stdout}${stderr}`);
    return { extensionsDir, remove };
  } catch (error) {
    await remove();
    throw error;
  }
}
