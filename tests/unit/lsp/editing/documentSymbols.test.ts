import type { DocumentSymbol } from 'vscode-languageserver';
import { expect, it } from 'vitest';
import { documentSymbolProvider } from '../../../../server/src/lsp/editing/documentSymbols.ts';
import { harborRoute, openEditor, textIn } from '../editor.ts';

async function outline(name: string, text: string): Promise<string[]> {
  const editor = await openEditor({ [name]: text });
  const lines: string[] = [];
  const add = (symbols: readonly DocumentSymbol[], depth: number): void => {
    for (const { name: label, detail, range, selectionRange, children } of symbols) {
      lines.push('  '.repeat(depth) + label + (detail === undefined ? '' : ` (${detail})`));
      // An editor refuses a symbol whose name lies outside it.
      expect(textIn(text, range)).toContain(textIn(text, selectionRange));
      add(children ?? [], depth + 1);
    }
  };
  add(documentSymbolProvider(editor.services)(editor.params), 0);
  return lines;
}

it('outlines a route: segments with the techniques used there, and the techniques', async () => {
  expect(await outline('a.route.yaml', harborRoute)).toEqual([
    'game',
    'category',
    'segments',
    '  harbor (Harbor gate)',
    '    crate-vault',
    '    lamp-clip',
    '  rope-yard',
    '    lamp-hop',
    'techniques',
    '  crate-vault (Crate vault)',
    '  lamp-clip (Lamp clip)',
    '  lamp-hop',
  ]);
});

it('outlines practice by session and block, runs by their start', async () => {
  const practice =
    'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 20 }\n      - { segment: harbor, minutes: 10 }\n';
  expect(await outline('a.practice.yaml', practice)).toEqual([
    'route',
    'sessions',
    '  2026-10-05T19:30',
    '    lamp-hop',
    '    harbor',
  ]);
  const runs =
    'route: a.route.yaml\nruns:\n  - { start: 2026-10-05T19:30, total: 41:30 }\n  - { date: 2026-10-06, minutes: 60, runs: 4, finished: 1 }\n';
  expect(await outline('a.runs.yaml', runs)).toEqual(['route', 'runs', '  2026-10-05T19:30', '  2026-10-06']);
});

it('keeps what is half typed in the outline', async () => {
  const text = 'game: Lanternfall\nsegments:\n  - time: 90\n  - id:\ntechniques:\n  lamp-hop:\n';
  expect(await outline('a.route.yaml', text)).toEqual([
    'game',
    'segments',
    '  ?',
    '  ?',
    'techniques',
    '  lamp-hop',
  ]);
});
