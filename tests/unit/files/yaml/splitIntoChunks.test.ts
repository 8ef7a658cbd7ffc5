import { describe, expect, it } from 'vitest';
import { sectionsByKind } from '../../../../server/src/files/fileKind.ts';
import { splitIntoChunks } from '../../../../server/src/files/yaml/splitIntoChunks.ts';
import { practiceText, routeText } from './texts.ts';

const pieces = (text: string, kind: 'route' | 'practice' = 'route') =>
  splitIntoChunks(text, sectionsByKind[kind])?.map(
    ({ start, end, stray }) => (stray ? '!' : '') + text.slice(start, end),
  );

describe('split', () => {
  it('cuts a file into its keys and its sections into entries', () => {
    expect(
      pieces(
        '# c\ngame: x\nsegments:\n  # d\n  - id: a\n    time: 1\n\n  - id: b\ntechniques:\n  a:\n    b: 1\n  "c": 2\n',
      ),
    ).toEqual([
      '# c\ngame: x\n',
      'segments:\n  # d\n',
      '  - id: a\n    time: 1\n\n',
      '  - id: b\n',
      'techniques:\n',
      '  a:\n    b: 1\n',
      '  "c": 2\n',
    ]);
  });

  it('covers the text without a gap', () => {
    for (const [text, kind] of [
      [routeText, 'route'],
      [practiceText, 'practice'],
    ] as const) {
      for (const variant of [text, text.replaceAll('\n', '\r\n'), text.trimEnd()]) {
        expect(pieces(variant, kind)?.join('')).toBe(variant);
      }
    }
  });

  it('knows lists that begin in the first column', () => {
    expect(pieces('sessions:\n- start: x\n  blocks:\n  - a\n- start: y\n', 'practice')).toEqual([
      'sessions:\n',
      '- start: x\n  blocks:\n  - a\n',
      '- start: y\n',
    ]);
  });

  it('leaves brackets, quotes and blocks that go on below in one piece', () => {
    expect(pieces('links: [\n  a\n]\nnotes: |\n  game: x\n\n  # d\ngame: "a\n  b: c"\n')).toEqual([
      'links: [\n  a\n]\n',
      'notes: |\n  game: x\n\n  # d\n',
      'game: "a\n  b: c"\n',
    ]);
  });

  it('sets lines that belong to nothing apart, one piece as long as they follow each other', () => {
    expect(pieces('game: x\ncateg\n  more\nsegments:\n  - id: a\n  nam\n  tim\n  - id: b\n')).toEqual([
      'game: x\n',
      '!categ\n  more\n',
      'segments:\n',
      '  - id: a\n',
      '!  nam\n  tim\n',
      '  - id: b\n',
    ]);
  });

  it('sees that the first entry is the badly indented one', () => {
    expect(pieces('segments:\n    - id: a\n  - id: b\n  - id: c\n')).toEqual([
      'segments:\n',
      '!    - id: a\n',
      '  - id: b\n',
      '  - id: c\n',
    ]);
  });

  it('begins after a byte-order mark and after ---', () => {
    expect(pieces('\uFEFFgame: x\n')).toEqual(['game: x\n']);
    expect(pieces('# c\n---\ngame: x\n')).toEqual(['game: x\n']);
  });

  it.each([
    '',
    '# c\n',
    '- a\n',
    'text\n',
    '{ game: x }\n',
    '  game: x\n',
    'game: x\n---\ngame: y\n',
    'game: x\n...\n',
    '%YAML 1.2\n---\ngame: x\n',
    '? game\n: x\n',
    'game: x\n? a\n: b\n',
    'game: x\rcategory: y\r',
    'segments:\n  [a]\n',
    'segments:\n  text\n',
    'techniques:\n  a: 1\n  ? b\n  : 2\n',
    '---\n---\n',
  ])('does not cut %j', (text) => {
    expect(pieces(text)).toBeUndefined();
  });
});
