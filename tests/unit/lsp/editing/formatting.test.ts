import type { Position } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import {
  formattingProvider,
  onTypeFormattingProvider,
  rangeFormattingProvider,
} from '../../../../server/src/lsp/editing/formatting.ts';
import { edited, openEditor } from '../editor.ts';

const options = { tabSize: 8, insertSpaces: false };
const untidy = `game:  "🏮🏮"   # lit
category:   any%
segments:
- id:  harbor
  time:   90
- id:   rope-yard
  time:  80
`;
const tidy = `game: "🏮🏮" # lit
category: any%
segments:
  - id: harbor
    time: 90
  - id: rope-yard
    time: 80
`;

async function open(text: string) {
  const editor = await openEditor({ 'a.route.yaml': text });
  const plain = editor.text('a.route.yaml');
  return {
    whole: () => edited(plain, formattingProvider(editor.services)({ ...editor.params, options })),
    lines: (from: number, to: number) => {
      const range = { start: { line: from, character: 0 }, end: { line: to, character: 0 } };
      return edited(plain, rangeFormattingProvider(editor.services)({ ...editor.params, range, options }));
    },
    typed: (position: Position = editor.position) =>
      edited(
        plain,
        onTypeFormattingProvider(editor.services)({ ...editor.params, position, ch: '\n', options }),
      ),
  };
}

describe('formatting', () => {
  it('formats the whole file, whatever the editor says of tabs', async () => {
    expect((await open(untidy)).whole()).toBe(tidy);
    expect((await open(tidy)).whole()).toBe(tidy);
  });

  it('changes nothing in a file that cannot be read', async () => {
    const broken = `${untidy}techniques: { a: [\n`;
    expect((await open(broken)).whole()).toBe(broken);
  });
});

describe('formatting of some lines', () => {
  it('changes these lines only', async () => {
    const { lines } = await open(untidy);
    expect(lines(0, 1)).toBe(untidy.replace('game:  "🏮🏮"   # lit', 'game: "🏮🏮" # lit'));
    expect(lines(3, 7)).toBe(untidy.split('\n').slice(0, 3).concat(tidy.split('\n').slice(3)).join('\n'));
  });

  it('moves no line where that would part it from those around it', async () => {
    // One of two entries moved to the right would belong to the other.
    expect((await open(untidy)).lines(5, 6)).toBe(untidy.replace('- id:   rope-yard', '- id: rope-yard'));
  });
});

describe('formatting while typing', () => {
  it('puts the line in order that is just finished, and leaves the one with the cursor', async () => {
    const text = untidy.replace('category:   any%\n', 'category:   any%\n    ‸\n');
    expect((await open(text)).typed()).toBe(
      text.replace('‸', '').replace('category:   any%', 'category: any%'),
    );
  });

  it('does nothing on the first line, in a very long file, or while the text is broken', async () => {
    expect((await open(untidy)).typed({ line: 0, character: 3 })).toBe(untidy);
    const long = `${untidy}# ${'x'.repeat(200_000)}\n`;
    expect((await open(long)).typed({ line: 2, character: 0 })).toBe(long);
    const broken = 'game:  "x\n‸\ncategory:  y\n';
    expect((await open(broken)).typed()).toBe(broken.replace('‸', ''));
  });
});
