import type { SelectionRange } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { documentLinkProvider } from '../../../../server/src/lsp/editing/documentLinks.ts';
import { foldingRangeProvider } from '../../../../server/src/lsp/editing/folding.ts';
import { selectionRangeProvider } from '../../../../server/src/lsp/editing/selectionRanges.ts';
import { workspaceSymbolProvider } from '../../../../server/src/lsp/editing/workspaceSymbols.ts';
import { harborRoute, openEditor, shown, textIn } from '../editor.ts';

describe('folding', () => {
  async function folded(text: string): Promise<string[]> {
    const editor = await openEditor({ 'a.route.yaml': text });
    const lines = editor.text('a.route.yaml').split('\n');
    return foldingRangeProvider(editor.services)(editor.params).map(
      ({ startLine, endLine, kind }) =>
        `${lines[startLine]!.trim()} … ${lines[endLine]!.trim()}${kind ? ` (${kind})` : ''}`,
    );
  }

  it('folds sections, their entries and lists', async () => {
    expect(await folded(harborRoute)).toEqual([
      'segments: … techniques: [lamp-hop]',
      '- id: harbor … - { use: lamp-clip, id: second, spot: gate, backup: lamp-hop }',
      'techniques: … - { use: lamp-clip, id: second, spot: gate, backup: lamp-hop }',
      '- id: rope-yard … techniques: [lamp-hop]',
      'techniques: … lamp-hop: { difficulty: 2, saves: 1.5, loses: 1 }',
      'lamp-clip: … needs: [lamp-hop]',
    ]);
  });

  it('folds notes with their headings, and comments of several lines, but not what stands between entries', async () => {
    const text = `# One route
# of two lines.
notes: |
  Written at night.

  # A heading
segments:
  - id: harbor
    time: 90

  # The yard comes next.
  # It is dark.

  - id: rope-yard
    time: 80
`;
    expect(await folded(text)).toEqual([
      '# One route … # of two lines. (comment)',
      'notes: | … # A heading',
      'segments: … time: 80',
      '- id: harbor … time: 90',
      '# The yard comes next. … # It is dark. (comment)',
      '- id: rope-yard … time: 80',
    ]);
  });
});

describe('selection', () => {
  it('grows from the word over its entry to the file', async () => {
    const text = harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp‸-hop]');
    const editor = await openEditor({ 'a.route.yaml': text });
    const [range] = selectionRangeProvider(editor.services)({
      ...editor.params,
      positions: [editor.position],
    });
    const steps: string[] = [];
    for (let step: SelectionRange | undefined = range; step; step = step.parent) {
      const written = textIn(editor.text('a.route.yaml'), step.range);
      expect(written).toContain(steps.at(-1) ?? '');
      steps.push(written);
    }
    expect(steps.slice(0, 3)).toEqual(['lamp-hop', '[lamp-hop]', 'needs: [lamp-hop]']);
    expect(steps.some((step) => step.startsWith('lamp-clip:\n'))).toBe(true);
    expect(steps.at(-1)).toBe(editor.text('a.route.yaml'));
  });

  it('answers once for each position, also where there is nothing', async () => {
    const editor = await openEditor({ 'a.route.yaml': '' });
    const positions = [editor.position, editor.position];
    expect(selectionRangeProvider(editor.services)({ ...editor.params, positions })).toHaveLength(2);
  });
});

describe('links', () => {
  it('leads to the route of a log and to web addresses under `links`, to nothing else', async () => {
    const links = async (files: Record<string, string>) => {
      const editor = await openEditor(files);
      const name = editor.uri.split('/').at(-1)!;
      return documentLinkProvider(editor.services)(editor.params).map(
        ({ range, target }) => `${textIn(editor.text(name), range)} → ${target}`,
      );
    };
    const route = harborRoute.replace(
      'segments:',
      'links: [https://example.org/run, "file:///etc/passwd", notes]\nsegments:',
    );
    expect(await links({ 'a.week.yaml': 'route: a.route.yaml\n', 'a.route.yaml': harborRoute })).toEqual([
      'a.route.yaml → file:///w/a.route.yaml',
    ]);
    expect(await links({ 'a.week.yaml': 'route: b.route.yaml\n', 'a.route.yaml': harborRoute })).toEqual([]);
    expect(await links({ 'a.route.yaml': route })).toEqual([
      'https://example.org/run → https://example.org/run',
    ]);
  });
});

describe('workspace symbols', () => {
  it('finds techniques and segments of all routes by letters of their names and ids', async () => {
    const editor = await openEditor({
      'a.route.yaml': harborRoute,
      'b.route.yaml': 'game: L\ncategory: x\nsegments:\n  - { id: gate, name: "🏮 Gate", time: 9 }\n',
    });
    const found = (query: string) =>
      workspaceSymbolProvider(editor.services)({ query }).map(
        ({ name, containerName, location }) => `${name} · ${containerName} · ${shown(editor, location)}`,
      );
    expect(found('crv')).toEqual([
      'Crate vault · crate-vault in a.route.yaml · a.route.yaml:13:2 crate-vault',
    ]);
    expect(found('gate')).toEqual([
      'Harbor gate · harbor in a.route.yaml · a.route.yaml:3:8 harbor',
      '🏮 Gate · gate in b.route.yaml · b.route.yaml:3:10 gate',
    ]);
    expect(found('')).toHaveLength(6);
    expect(found('zzz')).toEqual([]);
  });
});
