import { execFile } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { allDebianPackages } from '../editor/host/programs.ts';
import { root } from './packages.ts';

const run = promisify(execFile);
const read = (path: string): Promise<string> => readFile(join(root, path), 'utf8');

interface Component {
  readonly name: string;
  readonly version: string;
  readonly purl: string;
  readonly hashes: readonly { readonly alg: string; readonly content: string }[];
}
interface Bom {
  readonly bomFormat: string;
  readonly specVersion: string;
  readonly components: readonly Component[];
}
const byPurl = ({ components }: Bom) => new Map(components.map((each) => [each.purl, each]));

describe('the list of what ships, in each package', () => {
  let folder: string;
  let npm: ReadonlyMap<string, Component>;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'supply-chain-'));
    await run(process.execPath, ['build.mjs', '--minify', '--into', folder], { cwd: root });
    const args = ['sbom', '--sbom-format', 'cyclonedx', '--package-lock-only'];
    const { stdout } = await run('npm', args, { cwd: root, maxBuffer: 100_000_000 });
    npm = byPurl(JSON.parse(stdout) as Bom);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it.each(['dist', 'server/dist'])(
    'of %s has the packages of its notices, with the hashes that npm knows',
    async (of) => {
      const bom = JSON.parse(await readFile(join(folder, of, 'sbom.cdx.json'), 'utf8')) as Bom;
      expect(bom).toMatchObject({ bomFormat: 'CycloneDX', specVersion: '1.5' });
      const notices = await readFile(join(folder, of, 'THIRD-PARTY-NOTICES.txt'), 'utf8');
      const noticed = new Set(
        [...notices.matchAll(/^(\S+ \d+\.\d+\.\d+\S*) \(.+\)$/gm)].map(([, title]) => title),
      );
      expect(noticed.size).toBeGreaterThan(30);
      expect(new Set(bom.components.map(({ name, version }) => `${name} ${version}`))).toEqual(noticed);
      for (const { purl, name, version, hashes } of bom.components)
        expect({ name, version, hashes }, purl).toEqual({
          name: npm.get(purl)?.name,
          version: npm.get(purl)?.version,
          hashes: npm.get(purl)?.hashes,
        });
    },
  );
});

interface Step {
  readonly uses?: string;
  readonly run?: string;
  readonly with?: Readonly<Record<string, unknown>>;
}
interface Workflow {
  readonly permissions: unknown;
  readonly jobs: Readonly<Record<string, { readonly 'runs-on': string; readonly steps: readonly Step[] }>>;
}

describe('the workflows', async () => {
  const folder = '.github/workflows';
  const texts = await Promise.all(
    (await readdir(join(root, folder))).map((name) => read(join(folder, name))),
  );
  const workflows = texts.map((text) => parse(text) as Workflow);
  const jobs = workflows.flatMap(({ jobs: all }) => Object.values(all));
  const steps = jobs.flatMap((job) => job.steps);

  it('name each action by the hash of a commit, with its version as a comment', () => {
    const lines = texts.flatMap((text) => text.split('\n')).filter((line) => /\buses: (?!\.\/)/.test(line));
    expect(lines.length).toBeGreaterThan(3);
    for (const line of lines) expect(line).toMatch(/uses: [\w-]+\/[\w-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+$/);
  });

  it('may only read, and leave no credentials behind', () => {
    for (const { permissions } of workflows) expect(permissions).toEqual({ contents: 'read' });
    const checkouts = steps.filter(({ uses }) => uses?.startsWith('actions/checkout@'));
    expect(checkouts).toHaveLength(jobs.length);
    for (const { with: settings } of checkouts)
      expect(settings).toMatchObject({ 'persist-credentials': false });
  });

  it('run nothing of npm as root: the one step as root is before Node and installs the listed packages', () => {
    for (const job of jobs) {
      const asRoot = job.steps.findLastIndex(({ run: command }) => /\bsudo\b/.test(command ?? ''));
      if (asRoot < 0) continue;
      expect(job.steps[asRoot]!.run).toMatch(
        /^sudo apt-get update && sudo apt-get install [-\w ]+ \$\(cat \.ci\/packages\)$/,
      );
      const npm = job.steps.findIndex(({ uses, run: command }) =>
        /setup-node|npm|npx|\.ci\/(run|audit)/.test(`${uses} ${command}`),
      );
      expect(npm).toBeGreaterThan(asRoot);
    }
  });

  it('install what every test needs', async () => {
    const listed = (await read('.ci/packages')).trim().split('\n');
    expect([...listed].sort()).toEqual([...allDebianPackages].sort());
  });

  it('run no script of a package on installation, and neither does anybody with this folder', async () => {
    const commands = [
      ...steps.map(({ run: command }) => command ?? ''),
      await read('.ci/run'),
      await read('.ci/audit'),
      await read('.github/routewright'),
    ];
    const installs = commands
      .flatMap((text) => text.split('\n'))
      .filter((line) => /\bnpm (ci|install|i)\b/.test(line));
    expect(installs.length).toBeGreaterThan(2);
    for (const line of installs) expect(line).toContain('--ignore-scripts');
    const settings = await read('.npmrc');
    expect(settings).toMatch(/^ignore-scripts=true$/m);
    // The ones that have a script are named with the reason why none is needed.
    const lock = JSON.parse(await read('package-lock.json')) as {
      packages: Record<string, { hasInstallScript?: boolean; optional?: boolean }>;
    };
    const scripted = Object.entries(lock.packages).filter(([, { hasInstallScript }]) => hasInstallScript);
    const names = scripted
      .map(([path]) => path.replace(/^.*node_modules\//, ''))
      .filter((name) => name !== 'fsevents');
    for (const name of new Set(names)) expect(settings, name).toContain(name);
  });

  it('audit, and try Windows', () => {
    expect(steps.map(({ run: command }) => command)).toContain('bash .ci/audit');
    expect(jobs.some((job) => job['runs-on'].startsWith('windows-'))).toBe(true);
  });
});
