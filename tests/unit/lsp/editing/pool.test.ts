import type { MarkupContent, TextDocumentEdit, WorkspaceEdit } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { completionProvider } from '../../../../server/src/lsp/editing/completion.ts';
import { definitionProvider } from '../../../../server/src/lsp/editing/definition.ts';
import { documentLinkProvider } from '../../../../server/src/lsp/editing/documentLinks.ts';
import { documentSymbolProvider } from '../../../../server/src/lsp/editing/documentSymbols.ts';
import { formattingProvider } from '../../../../server/src/lsp/editing/formatting.ts';
import { hoverProvider } from '../../../../server/src/lsp/editing/hover.ts';
import { inlayHintProvider } from '../../../../server/src/lsp/editing/inlayHints.ts';
import { symbolsIn } from '../../../../server/src/lsp/editing/occurrences.ts';
import { referencesProvider } from '../../../../server/src/lsp/editing/references.ts';
import { renameProvider } from '../../../../server/src/lsp/editing/rename.ts';
import { poolText } from '../../../helpers/poolFiles.ts';
import { edited, harborRoute, openEditor, shown, uriOf, type Editor } from '../editor.ts';

const count = { runners: 4, difficulty: 3 };
const pool = poolText({
  route: 'a.route.yaml',
  techniques: { 'lamp-hop': count, 'box-jump': { ...count, brief: true } },
});
const route = { 'a.route.yaml': harborRoute };

/** An editor with the route, and with a pool in which the cursor stands where the mark is. */
const inPool = (marked: string): Promise<Editor> =>
  openEditor({ ...route, 'a.pool.yaml': pool.replace(marked.replace('‸', ''), marked) });

describe('in a pool', () => {
  it('a technique leads to its definition, also by a former id, and the route to its file', async () => {
    const from = async (marked: string) => {
      const editor = await inPool(marked);
      const location = definitionProvider(editor.services)(editor.params);
      return location && shown(editor, location);
    };
    expect(await from('lamp‸-hop:')).toBe('a.route.yaml:20:2 lamp-hop');
    expect(await from('box-j‸ump:')).toBe('a.route.yaml:13:2 crate-vault');
    expect(await from('route: a.rou‸te.yaml')).toBe('a.route.yaml:0:0 ');
  });

  it('the route is a link', async () => {
    const editor = await inPool('‸route:');
    const links = documentLinkProvider(editor.services)(editor.params);
    expect(links.map(({ target }) => target)).toEqual([uriOf('a.route.yaml')]);
  });

  it('a technique has the hover that it has in a log, and a key the meaning that it has here', async () => {
    const hover = async (marked: string) => {
      const editor = await inPool(marked);
      const answer = runToCompletion(hoverProvider(editor.services)(editor.params));
      return (answer?.contents as MarkupContent | undefined)?.value;
    };
    expect(await hover('box-j‸ump:')).toContain('Crate vault');
    expect(await hover('mo‸del: 1')).toContain('Version of the learning curves');
    expect(await hover('    run‸ners: 4')).toContain('How many runners practised the technique');
    expect(await hover('three_‸quarters:')).toContain(
      'share three quarters of what makes a technique easier',
    );
    expect(await hover('mid‸way:')).toContain('25 half-way points');
  });

  it('its techniques are among the references of one, and what is marked are its ids alone', async () => {
    const editor = await openEditor({
      'a.route.yaml': harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp‸-hop]'),
      'a.pool.yaml': pool,
    });
    const places = referencesProvider(editor.services)({
      ...editor.params,
      context: { includeDeclaration: false },
    }).map((location) => shown(editor, location));
    expect(places).toContain('a.pool.yaml:6:2 lamp-hop');
    const file = editor.services.workspace.file(uriOf('a.pool.yaml'))!;
    expect([...symbolsIn(file)].map(({ id }) => id)).toEqual(['lamp-hop', 'box-jump']);
  });

  it('a technique is renamed with all others, and the pool reads as well as before', async () => {
    const editor = await inPool('lamp‸-hop:');
    const answer = (await renameProvider(editor.services)({
      ...editor.params,
      newName: 'wall-hop',
    })) as WorkspaceEdit;
    const changed = Object.fromEntries(
      (answer.documentChanges as TextDocumentEdit[]).map(({ textDocument, edits }) => {
        const name = textDocument.uri.slice(uriOf('').length);
        return [name, edited(editor.text(name), edits as Parameters<typeof edited>[1])];
      }),
    );
    expect(changed['a.route.yaml']).toContain(
      'wall-hop: { difficulty: 2, saves: 1.5, loses: 1, was: [lamp-hop] }',
    );
    expect(changed['a.pool.yaml']).toBe(pool.replace('lamp-hop:', 'wall-hop:'));
    expect(readSource('pool', changed['a.pool.yaml']!).problems).toEqual([]);
  });

  it('keys and techniques are completed that are not there yet, and no uses', async () => {
    const labels = async (text: string) => {
      const editor = await openEditor({ ...route, 'a.pool.yaml': text });
      Object.assign(editor.client, { snippets: true });
      return completionProvider(editor.services)(editor.params).map(({ label }) => label);
    };
    expect(await labels(`${pool}  ‸\n`)).toEqual(['crate-vault', 'lamp-clip']);
    expect(await labels(pool.replace('    difficulty: 3\n', '    difficulty: 3\n    ‸\n'))).toEqual([]);
    const brief = pool.slice(0, pool.lastIndexOf('    midway'));
    expect(await labels(`${brief}    ‸\n`)).toEqual(['midway', 'loss', 'suddenness', 'ceiling', 'floor']);
    expect(await labels('route: ‸\n')).toEqual(['a.route.yaml']);
    expect(await labels('‸')).toEqual(['route', 'model', 'day', 'runners', 'techniques']);
  });

  it('the outline has each technique with its number of runners', async () => {
    const editor = await inPool('‸route:');
    const outline = documentSymbolProvider(editor.services)(editor.params);
    expect(outline.map(({ name }) => name)).toEqual(['route', 'model', 'day', 'runners', 'techniques']);
    const techniques = outline.at(-1)!.children!;
    expect(techniques.map(({ name, detail }) => [name, detail])).toEqual([
      ['lamp-hop', '4 runners'],
      ['box-jump', '4 runners'],
    ]);
  });

  it('formatting changes nothing that the tool wrote, and mends what was moved', async () => {
    const format = async (text: string) => {
      const editor = await openEditor({ ...route, 'a.pool.yaml': text.replace('route:', '‸route:') });
      const edits = formattingProvider(editor.services)({
        textDocument: editor.params.textDocument,
        options: { tabSize: 2, insertSpaces: true },
      });
      return edited(editor.text('a.pool.yaml'), edits);
    };
    expect(await format(pool)).toBe(pool);
    expect(await format(pool.replaceAll('      ', '        ').replace(', ', ',   '))).toBe(pool);
  });

  it('no text stands between the words', async () => {
    const editor = await inPool('‸route:');
    const range = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
    const hints = inlayHintProvider(editor.services)({ textDocument: editor.params.textDocument, range });
    expect(hints).toEqual([]);
  });
});
