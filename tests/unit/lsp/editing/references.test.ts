import { DocumentHighlightKind } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import {
  documentHighlightProvider,
  referencesProvider,
} from '../../../../server/src/lsp/editing/references.ts';
import { harborRoute, openEditor, shown, textIn } from '../editor.ts';

const runs = `route: a.route.yaml
runs:
  - start: 2026-10-05T19:30
    times: { harbor: 91.5 }
    tried: { lamp-clip@second: [0, 1], box-jump: [1, 1] }
    ended: { at: rope-yard, why: miss, by: lamp-hop }
`;

async function all(files: Record<string, string>, includeDeclaration = true): Promise<string[]> {
  const editor = await openEditor(files);
  const found = referencesProvider(editor.services)({ ...editor.params, context: { includeDeclaration } });
  return found.map((location) => shown(editor, location)).sort();
}

const inRoute = (from: string, includeDeclaration = true) =>
  all(
    { 'a.route.yaml': harborRoute.replace(from.replace('‸', ''), from), 'a.runs.yaml': runs },
    includeDeclaration,
  );

describe('references', () => {
  it('finds a technique in every file, under any of its ids', async () => {
    expect(await inRoute('- crate-v‸ault')).toEqual([
      'a.route.yaml:13:2 crate-vault',
      'a.route.yaml:7:8 crate-vault',
      'a.runs.yaml:4:39 box-jump',
    ]);
  });

  it('leaves the definition out where it is not asked for', async () => {
    expect(await inRoute('id: ‸harbor', false)).toEqual(['a.runs.yaml:3:13 harbor']);
  });

  it('tells a use apart from its technique, at the word that the cursor is on', async () => {
    expect(await inRoute('id: sec‸ond')).toEqual(['a.route.yaml:8:30 second', 'a.runs.yaml:4:23 second']);
    const log = (at: string) =>
      all({ 'a.route.yaml': harborRoute, 'a.runs.yaml': runs.replace('lamp-clip@second', at) });
    expect(await log('lamp-clip@se‸cond')).toEqual(await inRoute('id: sec‸ond'));
    expect(await log('lamp‸-clip@second')).toContain('a.runs.yaml:4:13 lamp-clip');
  });

  it('keeps spots of the same name in different segments apart', async () => {
    const two = harborRoute.replace(
      'techniques: [lamp-hop]',
      'techniques: [{ use: lamp-hop, spot: gate }, { use: crate-vault, spot: gate }]',
    );
    expect(await all({ 'a.route.yaml': two.replace('spot: gate, backup', 'spot: ga‸te, backup') })).toEqual([
      'a.route.yaml:8:44 gate',
    ]);
  });

  it('finds what a route that extends another takes from it, and not its segments of the same name', async () => {
    const other =
      'game: Lanternfall\ncategory: all lamps\nextends: a.route.yaml\nsegments:\n  - { id: harbor, time: 9, techniques: [lamp-hop] }\n';
    const files = { 'b.route.yaml': other, 'a.runs.yaml': runs };
    const technique = harborRoute.replace('  lamp-hop: {', '  lamp‸-hop: {');
    expect(await all({ 'a.route.yaml': technique, ...files })).toContain('b.route.yaml:4:40 lamp-hop');
    const segment = harborRoute.replace('id: harbor', 'id: har‸bor');
    expect(await all({ 'a.route.yaml': segment, ...files })).toEqual([
      'a.route.yaml:3:8 harbor',
      'a.runs.yaml:3:13 harbor',
    ]);
  });

  it('finds a name in quotes without them', async () => {
    const quoted = runs.replace('box-jump:', '"box-jump":');
    expect(
      await all({
        'a.route.yaml': harborRoute.replace('- crate-vault', '- cra‸te-vault'),
        'a.runs.yaml': quoted,
      }),
    ).toContain('a.runs.yaml:4:40 box-jump');
  });

  it('finds nothing where no name stands', async () => {
    expect(await inRoute('difficulty: ‸3')).toEqual([]);
  });
});

describe('highlights', () => {
  it('marks a name in its own file, its definition apart', async () => {
    const text = harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp‸-hop]');
    const editor = await openEditor({ 'a.route.yaml': text, 'a.runs.yaml': runs });
    const marks = documentHighlightProvider(editor.services)(editor.params);
    expect(marks.map(({ range }) => textIn(editor.text('a.route.yaml'), range))).toEqual(
      Array(4).fill('lamp-hop'),
    );
    expect(
      marks.filter(({ kind }) => kind === DocumentHighlightKind.Write).map(({ range }) => range.start),
    ).toEqual([{ line: 20, character: 2 }]);
  });
});
