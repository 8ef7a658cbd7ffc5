import { copyFile, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildHouse, type House } from './house.ts';
import { drawAsSvg, drawAsText } from './picture.ts';
import { readTree } from './tree.ts';

/** Imports that the table forbids, each in a file of its own: the import, and the rule that it breaks. */
const planted: Readonly<Record<string, readonly [imported: string, rule: string]>> = {
  'server/src/model/core/reads.ts': ['node:fs', 'model/core uses nothing that is built into Node'],
  'server/src/model/skill/speaks.ts': ['vscode-languageserver', 'model/skill imports of npm only @stdlib/'],
  'server/src/model/run/parses.ts': ['yaml', 'model/run imports of npm only @stdlib/'],
  'server/src/model/run/asks.ts': [
    '../../text/plain.ts',
    'model/run imports only incremental, model/(core|skill)',
  ],
  'server/src/rules/checks/speaks.ts': ['vscode-languageserver', 'rules/checks imports of npm only nothing'],
  'server/src/reports/speaks.ts': [
    'vscode-languageserver-types',
    'reports imports of npm only ical-generator, @types/sarif',
  ],
  'server/src/lsp/server/knows.ts': ['vscode', 'nothing in server/ knows VS Code'],
  'server/src/lsp/editing/reads.ts': ['fs/promises', 'lsp/editing uses nothing that is built into Node'],
  'server/src/cli/log/speaks.ts': ['vscode-jsonrpc', 'cli/log imports of npm only vscode-uri'],
  'client/src/takes.ts': [
    '../../server/src/text/../model/core/plain.ts',
    'the client shares what is said, plain and safe text and the reading of git with the server, and nothing else',
  ],
};
const sound: Readonly<Record<string, string>> = {
  'server/src/text/plain.ts': '',
  'server/src/model/core/plain.ts': '',
  'server/src/model/skill/plain.ts':
    "import '../core/plain.ts';\nimport '@stdlib/math-base-special-betaln';\n",
  'server/src/protocol/plain.ts': '',
  'server/src/git/runs.ts': "import 'node:child_process';\n",
  'server/src/lsp/editing/plain.ts': "import 'vscode-languageserver';\nimport '../../text/plain.ts';\n",
  'server/src/cli/log/plain.ts': "import 'node:fs';\nimport 'vscode-uri';\n",
  'client/src/plain.ts': "import 'vscode';\nimport '../../server/src/protocol/plain.ts';\n",
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'planted-rooms-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The house of a source that holds these files. */
async function built(name: string, files: Readonly<Record<string, string>>): Promise<House> {
  const root = join(folder, name);
  for (const [path, text] of Object.entries(files)) {
    await mkdir(dirname(join(root, path)), { recursive: true });
    await writeFile(join(root, path), text);
  }
  await copyFile(
    join(import.meta.dirname, '../../.dependency-cruiser.mjs'),
    join(root, '.dependency-cruiser.mjs'),
  );
  return buildHouse(await readTree(root, ['server/src', 'client']));
}

describe('the table of rooms', () => {
  test('has nothing against imports that it allows', async () => {
    const house = await built('sound', sound);
    expect(drawAsText(house)).toMatch(/^arrows up: 0, circles: 0, other rules broken: 0$/m);
  });

  test('names each import that it forbids, by the rule, the file and what it imports', async () => {
    const imports = Object.entries(planted).map(
      ([path, [imported]]) => [path, `import '${imported}';\n`] as const,
    );
    const { broken, up, circles } = await built('planted', { ...sound, ...Object.fromEntries(imports) });
    for (const [path, [, rule]] of Object.entries(planted))
      expect(
        broken.filter(({ from }) => from === path).map((one) => one.rule.replace('server/src/', '')),
        path,
      ).toContain(rule);
    expect(new Set(broken.map(({ from }) => from))).toEqual(new Set(Object.keys(planted)));
    expect([up, circles]).toEqual([[], []]);
  });

  test('names arrows up and circles, and draws them', async () => {
    const house = await built('crooked', {
      ...sound,
      'server/src/model/core/climbs.ts': "import type { A } from '../skill/plain.ts';\n",
      'server/src/reports/one.ts': "import './two.ts';\n",
      'server/src/reports/two.ts': "import './three.ts';\n",
      'server/src/reports/three.ts': "import './one.ts';\n",
    });
    const text = drawAsText(house);
    expect(text).toContain('arrow up: server/src/model/core/climbs.ts -> server/src/model/skill/plain.ts\n');
    expect(text).toMatch(/circle of 3 files: server.src.reports.one.ts, .*three.ts, .*two.ts\n/);
    expect(text).toContain('rooms that import each other in a circle: model/core, model/skill\n');
    expect(text).toMatch(/^arrows up: 1, circles: 1, /m);
    expect(drawAsSvg(house).match(/class="up"/g)).toHaveLength(1);
  });

  test('finds what the browser way in reaches of Node, by whatever way', async () => {
    const { broken } = await built('reached', {
      'server/src/browser.ts': "import './lsp/server/serve.ts';\n",
      'server/src/lsp/server/serve.ts': "import '../../journal/writes.ts';\n",
      'server/src/journal/writes.ts': "import 'node:fs';\n",
    });
    expect(broken).toEqual([
      {
        rule: 'server/src/browser.ts reaches nothing that is built into Node',
        from: 'server/src/browser.ts',
        to: 'fs',
      },
    ]);
  });
});
