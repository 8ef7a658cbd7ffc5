import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const notOurs = new Set(['.git', 'node_modules', 'dist', 'output']);

/** Paths of the files and folders below a folder of the project, from the project's root; folders end in a slash. */
function pathsBelow(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
    if (notOurs.has(entry.name)) return [];
    return entry.isDirectory() ? [`${path}/`, ...pathsBelow(path)] : [path];
  });
}

const paths = pathsBelow('');
const exists = new Set(paths);
const fileNames = new Set(paths.map((path) => basename(path)));
/** A folder may be named alone, as `skill/` in a line about `model/`. */
const folderNames = new Set(paths.filter((path) => path.endsWith('/')).map((path) => `${basename(path)}/`));

/** DEVELOPERS.md, and the page and the decisions of each folder whose code it describes. */
const pages = [
  'DEVELOPERS.md',
  ...paths.filter((path) => /^(?:server\/src|client)\/(?:.*\/)?(?:README|decisions\/[^/]+)\.md$/.test(path)),
];

/** Every word of the project's code, settings and schemas: what a page names has to be one of them. */
const words = new Set(
  paths
    .filter((path) =>
      /^(?:server|client|schemas|tests|samples)\/.*\.(?:ts|mjs|cjs|json)$|^[^/]*\.m?[jt]s(?:on)?$/.test(path),
    )
    .filter((path) => path !== 'tests/docs/contributors.test.ts')
    .flatMap((path) => readFileSync(join(root, path), 'utf8').match(/\w+/g) ?? []),
);

/** The code spans of a page, without its fenced blocks. */
function codeSpans(text: string): string[] {
  const prose = text.replace(/^```[\s\S]*?^```/gm, '');
  return [...prose.matchAll(/`([^`\n]+)`/g)].map(([, span = '']) => span);
}

const fileEnding = /\.(?:ts|mjs|cjs|js|json|md|css|svg|yaml|el|lua)$/;
const folderName = /^[\w.{}-]+(?:\/[\w.{}-]+)*\/$/;
const filePath = /^[\w.{}-]+(?:\/[\w.{}-]+)+$/;

const fromTheRoot = /^(?:tests|server|client|schemas|samples)\//;

/** Whether a code span is meant as a path: a folder with a slash at its end, a file, or either from the root. */
function isPath(span: string): boolean {
  return folderName.test(span) || (filePath.test(span) && (fileEnding.test(span) || fromTheRoot.test(span)));
}

/** A part of a path that the reader has to fill in. */
const placeholder = /^your|KIND|FOLDER|PATH/;

/** A path up to the part that is a placeholder, such as KIND or yourRule. */
function withoutPlaceholder(path: string): string {
  const parts = path.split('/');
  const open = parts.findIndex((part) => placeholder.test(part));
  return open < 0 ? path : `${parts.slice(0, open).join('/')}/`;
}

/** The folders from which a page names paths: its own and those around it, the code's, and the tests' of either. */
function startsOf(page: string): string[] {
  const folder = dirname(page).replace(/\/decisions$/, '');
  const around = folder === '.' ? [] : [`${folder}/`, `${dirname(folder)}/`];
  const tests = [...around, 'server/src/'].map((folder) =>
    folder.replace(/^(?:server\/src|client\/src)\//, 'tests/unit/'),
  );
  return ['', ...around, ...tests, 'server/src/', 'tests/'];
}

/** What a page names and the project does not have. */
function missing(page: string, text: string): string[] {
  const starts = startsOf(page);
  const has = (path: string): boolean =>
    folderNames.has(path) ||
    exists.has(`${path}/`) ||
    starts.some((start) => exists.has(join(start, withoutPlaceholder(path))));
  const spans = codeSpans(text);
  const prose = text.replace(/```[\s\S]*?```|`[^`\n]*`/g, ' ');
  const bare = [...prose.matchAll(/(?<![\w/(.-])(?:tests|server\/src|client|schemas)\/[\w./-]*\w/g)].map(
    ([path]) => path,
  );
  const links = [...text.matchAll(/\]\(([^)#:]+)\)/g)].map(([, target = '']) =>
    relative(root, join(root, dirname(page), target)),
  );
  return [
    ...spans.filter((span) => isPath(span) && !has(span)),
    ...spans.filter(
      (span) =>
        /^[\w-][\w.-]*$/.test(span) &&
        fileEnding.test(span) &&
        !placeholder.test(span) &&
        !fileNames.has(span),
    ),
    ...spans.filter((span) => !isPath(span) && !fileEnding.test(span)).flatMap(unknownNames),
    ...bare.filter((path) => !exists.has(path) && !exists.has(`${path}/`)),
    ...links.filter((path) => !exists.has(path)),
  ];
}

/** Names of functions, classes and members in a code span that occur nowhere in the code. */
function unknownNames(span: string): string[] {
  const name = /^(\w+(?:\.\w+)*)(?:\(.*\))?$/.exec(span)?.[1];
  return (name?.split('.') ?? []).filter(
    (word) => /^[A-Za-z]+$/.test(word) && /[a-z][A-Z]|^[A-Z][a-z]/.test(word) && !words.has(word),
  );
}

describe('the pages for contributors', () => {
  it.each(pages)('%s names files, folders and functions that exist', (page) => {
    expect(missing(page, readFileSync(join(root, page), 'utf8'))).toEqual([]);
  });

  it('are one for each folder right below server/src', () => {
    const folders = paths.filter(
      (path) => /^server\/src\/[^/]+\/$/.test(path) && !path.endsWith('/generated/'),
    );
    expect(folders.filter((folder) => !exists.has(`${folder}README.md`))).toEqual([]);
  });

  it('would fail for a file, a folder, a function or a link that is not there', () => {
    const page =
      'See `rules/catalog.ts`, `goneAway.ts`, `rules/gone/`, `tests/gone`, `rankTheTechnique()`, tests/gone.ts, [more](gone.md).';
    expect(missing('DEVELOPERS.md', page)).toEqual([
      'rules/catalog.ts',
      'rules/gone/',
      'tests/gone',
      'goneAway.ts',
      'rankTheTechnique',
      'tests/gone.ts',
      'gone.md',
    ]);
    expect(
      missing('DEVELOPERS.md', 'See `rules/catalogue.ts`, `catalogue.ts`, `rules/`, `checkProject()`.'),
    ).toEqual([]);
  });
});
