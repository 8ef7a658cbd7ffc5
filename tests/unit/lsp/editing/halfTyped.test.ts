import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { readFileSync } from 'node:fs';
import type { MarkupContent } from 'vscode-languageserver';
import { beforeAll, describe, expect, it } from 'vitest';
import { codeLensProvider } from '../../../../server/src/lsp/editing/codeLens.ts';
import { completionProvider } from '../../../../server/src/lsp/editing/completion.ts';
import { hoverProvider } from '../../../../server/src/lsp/editing/hover.ts';
import { inlayHintProvider } from '../../../../server/src/lsp/editing/inlayHints.ts';
import { neverStopped, openEditor, uriOf, type Editor } from '../editor.ts';

const route = 'lanternfall.route.yaml';
const sample = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);
const text = sample[route]!;

let editor: Editor;
/** What stood between the lines before anything was typed. */
let before: { lenses: string[]; hints: string[]; hover: string };

const whole = { start: { line: 0, character: 0 }, end: { line: 99_999, character: 0 } };
const textDocument = { uri: uriOf(route) };

beforeAll(async () => {
  editor = await openEditor(sample, { open: [route], today: '2026-11-09' });
  const { services } = editor;
  codeLensProvider(services)({ textDocument });
  for (const project of services.workspace.groups().projects)
    await services.inlineEstimates.update(project, neverStopped);
  before = { lenses: lenses(text), hints: hints(text), hover: hoverOn(text, 'needs: [awning-bounce]', 10) };
});

/** `line text: title` of every lens: the text of the line over which it stands. */
function lenses(now: string): string[] {
  const rows = now.split('\n');
  return codeLensProvider(editor.services)({ textDocument }).map(
    ({ range, command }) => `${rows[range.start.line]!.trim()}: ${command!.title}`,
  );
}

/** The text before every hint, with the hint. */
function hints(now: string): string[] {
  const rows = now.split('\n');
  return inlayHintProvider(editor.services)({ textDocument, range: whole }).map(
    ({ position, label }) => `${rows[position.line]!.slice(0, position.character).trim()} ${label as string}`,
  );
}

function placeOf(now: string, words: string, by: number) {
  const lines = now.slice(0, now.indexOf(words) + by).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
}

function hoverOn(now: string, words: string, by: number): string {
  const found = runToCompletion(
    hoverProvider(editor.services)({ textDocument, position: placeOf(now, words, by) }),
  );
  return (found?.contents as MarkupContent | undefined)?.value ?? '';
}

/** How a file stands for a moment: its name, what stands in place of what, and what may be missing meanwhile. */
type Moment = readonly [string, string, string, RegExp?];

const moments: readonly Moment[] = [
  ['a key without its value', '    saves: 3.2\n', '    saves: \n', /^saves: 3.2/],
  ['a word that is no key', '  crate-vault:\n    name', '  cr\n  crate-vault:\n    name'],
  ['an id half typed', '      - crate-vault\n', '      - crate-va\n'],
  ['an open bracket', 'luck: [{ chance: 0.3, adds: 5 }]', 'luck: [{ chance: 0.3, adds: 5', /adds: 5/],
  ['a pasted tab', '    time: 2:08\n', '\t    time: 2:08\n', /^(spread: 1\.4|- \{ use: rope-swing)/],
  ['a line of tabs', '  - id: rope-yard\n', '\t\t\n  - id: rope-yard\n'],
  [
    'markers of a merge around a line',
    '    difficulty: 3\n    saves: 3.2\n',
    '    difficulty: 3\n<<<<<<< ours\n    saves: 3.2\n=======\n    saves: 3.6\n>>>>>>> theirs\n',
    /^saves: 3.[26]/,
  ],
  [
    'markers of a merge around an entry',
    '  - id: rope-yard\n',
    '<<<<<<< ours\n=======\n  - id: net-yard\n    time: 1:10\n>>>>>>> theirs\n  - id: rope-yard\n',
  ],
  ['lines typed above', 'segments:\n', '# one\n# two\n\nsegments:\n'],
  ['a comment half typed', '  lamp-hop:\n    name', '  # bett\n  lamp-hop:\n    name'],
];

describe.each(moments.map(([name, from, to, meanwhile]) => ({ name, from, to, meanwhile })))(
  '$name',
  ({ from, to, meanwhile }) => {
    const now = text.replace(from, to);

    it('leaves lenses and hints over the lines that they belong to', async () => {
      expect(now).not.toBe(text);
      const { services } = editor;
      services.sync.change(textDocument.uri, [{ text: now }], 2);
      await services.sync.ready();
      const kept = (list: readonly string[]) => list.filter((one) => !(meanwhile?.test(one) ?? false));
      expect(kept(lenses(now))).toEqual(kept(before.lenses));
      expect(kept(hints(now))).toEqual(kept(before.hints));
    });

    it('leaves hover and completion elsewhere as they were', async () => {
      const { services } = editor;
      services.sync.change(textDocument.uri, [{ text: now }], 2);
      await services.sync.ready();
      const told = hoverOn(now, 'needs: [awning-bounce]', 10);
      expect(told).toContain('**Awning bounce**');
      expect(told.replace(/\d/g, '#')).toMatch(/Lands in a run now \| ##? %/);
      const typed = now.replace('needs: [sluice-jump]', 'needs: [');
      services.sync.change(textDocument.uri, [{ text: typed }], 3);
      await services.sync.ready();
      const position = placeOf(typed, '    needs: [\n', '    needs: ['.length);
      const labels = completionProvider(services)({ textDocument, position }).map(({ label }) => label);
      expect(labels).toEqual(expect.arrayContaining(['wall-kick', 'lamp-hop']));
      expect(labels).not.toContain('sluice-double');
    });
  },
);

it('the same hover where nothing is broken', async () => {
  const { services } = editor;
  services.sync.change(textDocument.uri, [{ text }], 4);
  await services.sync.ready();
  expect(hoverOn(text, 'needs: [awning-bounce]', 10)).toBe(before.hover);
  expect(lenses(text)).toEqual(before.lenses);
  services.checks.dispose();
});
