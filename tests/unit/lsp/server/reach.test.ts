import { describe, expect, it } from 'vitest';
import { fileKindOf } from '../../../../server/src/files/fileKind.ts';
import { noClientFeatures } from '../../../../server/src/lsp/documents/clientFeatures.ts';
import { createServices } from '../../../../server/src/lsp/server/services.ts';

const folder = 'file:///w';
const paths = [
  '../secret.route.yaml',
  '/etc/secret.route.yaml',
  '//host/share/secret.route.yaml',
  '\\\\host\\share\\secret.route.yaml',
  'file:///etc/secret.route.yaml',
  'https://example.org/secret.route.yaml',
  '/etc/passwd',
  '../../../../../../etc/passwd',
  'sub/../../secret.route.yaml',
];

/** A server that opens a log and a route which name a path; gives the addresses that were read for them. */
async function readFor(path: string, folders: readonly string[]): Promise<string[]> {
  const asked: string[] = [];
  const files: Readonly<Record<string, string>> = {
    [`${folder}/a.route.yaml`]: `game: A game\ncategory: any\nextends: ${JSON.stringify(path)}\n`,
    [`${folder}/a.runs.yaml`]: `route: ${JSON.stringify(path)}\nruns: []\n`,
  };
  const { sync, checks } = createServices({
    client: noClientFeatures,
    source: {
      list: (of) => Promise.resolve(Object.keys(files).filter((uri) => uri.startsWith(`${of}/`))),
      read: (uri) => {
        asked.push(uri);
        return Promise.resolve(files[uri]);
      },
    },
    publish: () => undefined,
    events: { published: () => undefined, runGuarded: (_, run) => void run() },
    now: () => ({ date: 20_000, minute: undefined }),
  });
  await sync.setFolders(folders);
  for (const [uri, text] of Object.entries(files))
    await sync.open({ uri, languageId: 'routewright', version: 1, text });
  await sync.ready();
  checks.checkPendingEdits();
  checks.dispose();
  return asked;
}

describe('a path that a file names', () => {
  it.each(paths)('of %j is not followed out of the opened folder', async (path) => {
    const asked = await readFor(path, [folder]);
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.filter((uri) => !uri.startsWith(`${folder}/`))).toEqual([]);
  });

  it.each(paths)(
    'of %j leads to no other host and to files of ours only, where no folder is open',
    async (path) => {
      const asked = await readFor(path, []);
      expect(asked.filter((uri) => !uri.startsWith('file:///'))).toEqual([]);
      expect(asked.filter((uri) => fileKindOf(uri) === undefined)).toEqual([]);
    },
  );
});
