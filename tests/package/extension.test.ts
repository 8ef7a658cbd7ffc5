import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_HOST_VERSION } from '../editor/host/install.ts';
import { filesIn, makePackages, root, type Made } from './packages.ts';

const run = promisify(execFile);
const MINUTES = 60_000;

let folder: string;
let made: Made;
let again: Made;
let files: ReadonlyMap<string, Buffer>;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'package-test-'));
  for (const name of ['one', 'two']) await mkdir(join(folder, name));
  made = await makePackages(join(folder, 'one'), { TZ: 'Pacific/Auckland' });
  again = await makePackages(join(folder, 'two'), { TZ: 'America/Anchorage', SOURCE_DATE_EPOCH: '1' });
  files = await filesIn(made.vsix);
}, 3 * MINUTES);
afterAll(() => rm(folder, { recursive: true, force: true }));

const textOf = (path: string): string => files.get(path)?.toString('utf8') ?? '';

describe('the packages', () => {
  it('are the same bytes when they are made again, in another folder and time zone', async () => {
    for (const kind of ['vsix', 'tarball'] as const) {
      const [one, two] = [await readFile(made[kind]), await readFile(again[kind])];
      expect(one.equals(two), kind).toBe(true);
    }
  });
});

describe('the extension’s package', () => {
  it('holds what it needs and nothing else, in little more than a megabyte', async () => {
    const samples = (await readdir(join(root, 'samples'))).filter((name) => name.endsWith('.yaml'));
    expect(samples.length).toBeGreaterThan(3);
    const steps = await readdir(join(root, 'client/walkthrough'));
    expect([...files.keys()].sort()).toEqual(
      [
        '[Content_Types].xml',
        'extension.vsixmanifest',
        'extension/LICENSE.txt',
        'extension/changelog.md',
        'extension/client/language/language-configuration.json',
        'extension/client/language/routewright.tmLanguage.json',
        'extension/client/media/icon.png',
        'extension/client/media/tonight.svg',
        'extension/client/rules.md',
        'extension/dist/THIRD-PARTY-NOTICES.txt',
        'extension/dist/client.browser.js',
        'extension/dist/client.cjs',
        'extension/dist/panel.css',
        'extension/dist/panel.js',
        'extension/dist/practice.css',
        'extension/dist/practice.js',
        'extension/dist/run.css',
        'extension/dist/run.js',
        'extension/dist/sbom.cdx.json',
        'extension/dist/server.browser.js',
        'extension/dist/server.cjs',
        'extension/dist/server.proper.cjs',
        'extension/dist/server.protocol.cjs',
        'extension/package.json',
        'extension/package.nls.json',
        'extension/readme.md',
        ...samples.map((name) => `extension/samples/${name}`),
        ...steps.map((name) => `extension/client/walkthrough/${name}`),
      ].sort(),
    );
    // Two thirds are the language server, once for Node and once for the browser.
    expect((await readFile(made.vsix)).length).toBeLessThan(1_225_000);
  });

  it('tells nothing of the machine that it was made on', () => {
    for (const [path, bytes] of files)
      for (const own of [root, tmpdir() + '/', folder])
        expect(bytes.includes(own), `${path} holds ${own}`).toBe(false);
  });

  it('names only files that are in it', () => {
    const manifest = JSON.parse(textOf('extension/package.json')) as object;
    const named = new Set<string>();
    JSON.stringify(manifest, (key, value: unknown) => {
      if (typeof value === 'string' && key !== 'files' && /^(\.\/)?(client|dist|samples)\/\S+$/.test(value))
        named.add(join('extension', value));
      return value;
    });
    expect(named.size).toBeGreaterThanOrEqual(5);
    for (const path of named) expect([...files.keys()]).toContain(path);
    for (const word of ['devDependencies', 'scripts', 'workspaces', 'private', 'type'])
      expect(manifest).not.toHaveProperty(word);
  });

  it('has an icon of the size that is asked for', () => {
    const png = files.get('extension/client/media/icon.png')!;
    // The header of a PNG file: width and height stand at 16 and 20 (S: ISO/IEC 15948).
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([128, 128]);
  });

  it('has a page that stands by itself: no picture that an editor would not show, no link that leads nowhere', () => {
    const page = textOf('extension/readme.md');
    expect(page).toContain('**Rank Next Skill**');
    expect(page).not.toMatch(/\]\(|<\w/);
    expect(page).not.toMatch(/\bnpm\b|\bNode\b/);
  });

  it('runs in the oldest editor that it is tested in, by the types that it is written against', async () => {
    const { engines, devDependencies } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8')) as {
      engines: { vscode: string };
      devDependencies: Record<string, string>;
    };
    expect(engines.vscode).toBe(`^${devDependencies['@types/vscode']}`);
    // The host's package is numbered like the editor in it, with a 4 for its 1.
    expect(engines.vscode.split('.')[1]).toBe(DEFAULT_HOST_VERSION.split('.')[1]);
  });
});

describe('the list of the work of others', () => {
  it(
    'names every package that left a module in a bundle',
    async () => {
      // Bundles that are not minified say above each module where it came from; the list is made another way.
      const plain = join(folder, 'plain');
      await run(process.execPath, ['build.mjs', '--into', plain], { cwd: root });
      for (const [bundles, least] of [
        ['dist', 40],
        ['server/dist', 30],
      ] as const) {
        const modules = new Set<string>();
        for (const name of await readdir(join(plain, bundles), { recursive: true }))
          if (/\.(c?js|css)$/.test(name))
            for (const [, path = ''] of (await readFile(join(plain, bundles, name), 'utf8')).matchAll(
              /^\s*(?:\/\/|\/\*) (\S*node_modules\/\S+)/gm,
            ))
              modules.add(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)![0]);
        expect(modules.size).toBeGreaterThan(least);
        const list = await readFile(join(plain, bundles, 'THIRD-PARTY-NOTICES.txt'), 'utf8');
        for (const module of modules) {
          const manifest = await readFile(join(root, module, 'package.json'), 'utf8');
          const { name, version } = JSON.parse(manifest) as { name: string; version: string };
          expect(list, module).toContain(`\n${name} ${version} (`);
        }
      }
    },
    MINUTES,
  );
});
