import { describe, expect, it } from 'vitest';
import { keyToYaml, scalarToYaml, toFlowYaml } from '../../../../server/src/files/edit/flowYaml.ts';
import { insertItems, wordItem } from '../../../../server/src/files/edit/insertItems.ts';
import { lineEndingOf } from '../../../../server/src/files/edit/lines.ts';
import { removeItems } from '../../../../server/src/files/edit/removeItems.ts';
import { applyEdits, insertion } from '../../../../server/src/files/edit/textEdit.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';

const valueOf = (text: string) => toValue(readSource('week', text).tree);

describe('putting items into a list', () => {
  const inserted = (text: string, after: number, layout?: 'lines' | 'brackets') => {
    const edit = insertItems(readSource('week', text), ['pin'], after, ['x', 'z'].map(wordItem), layout);
    return edit && applyEdits(text, [edit]);
  };

  it.each([
    ['pin: [a, b]\n', 0, 'pin: [x, z, a, b]\n'],
    ['pin: [a, b]\n', 1, 'pin: [a, x, z, b]\n'],
    ['pin: [a, b]\n', 2, 'pin: [a, b, x, z]\n'],
    ['pin:\n  - a\n  - b # why\n', 0, 'pin:\n  - x\n  - z\n  - a\n  - b # why\n'],
    ['pin:\n  - a\n  - b # why\n', 2, 'pin:\n  - a\n  - b # why\n  - x\n  - z\n'],
    ['pin:\r\n- a\r\nblock: 5\r\n', 1, 'pin:\r\n- a\r\n- x\r\n- z\r\nblock: 5\r\n'],
  ])('of %j behind %d of them', (text, after, wanted) => {
    expect(inserted(text, after)).toBe(wanted);
  });

  it('of a list without any follows the layout', () => {
    expect(inserted('pin: [] # none\n', 0)).toBe('pin: # none\n  - x\n  - z\n');
    expect(inserted('pin: [] # none\n', 0, 'brackets')).toBe('pin: [x, z] # none\n');
    expect(inserted('block: 5', 0)).toBe('block: 5\npin:\n  - x\n  - z\n');
    expect(inserted('block: 5', 0, 'brackets')).toBe('block: 5\npin: [x, z]\n');
    expect(inserted('\uFEFFblock: 5\n', 0, 'brackets')).toBe('\uFEFFblock: 5\npin: [x, z]\n');
  });

  it('needs a list', () => {
    expect(inserted('pin: a\n', 0)).toBeUndefined();
  });
});

describe('taking items out of a list', () => {
  const removed = (text: string, gone: readonly number[], comments?: 'keep' | 'remove') => {
    const edits = removeItems(readSource('week', text), ['pin'], new Set(gone), comments);
    return edits && applyEdits(text, edits);
  };

  it.each([
    ['pin: [a, b, c]\n', [0, 1], 'pin: [c]\n'],
    ['pin: [a, b, c]\n', [0, 2], 'pin: [b]\n'],
    ['pin: [a, b]\n', [0, 1], 'pin: []\n'],
    ['pin:\n  - a\n  - b # why\n  - c\n', [1], 'pin:\n  - a\n  - c\n'],
    ['pin:\n  - a\n  - b\n', [0, 1], 'pin: []\n'],
  ])('of %j those at %j', (text, gone, wanted) => {
    expect(removed(text, gone)).toBe(wanted);
  });

  it('keeps comments where they are to stay, and empties no list over one', () => {
    expect(removed('pin:\n  - a # why\n  - b\n', [0], 'keep')).toBe('pin:\n  # why\n  - b\n');
    expect(removed('pin: # mine\n  - a\n', [0])).toBeUndefined();
    expect(removed('pin: # mine\n  - a # why\n', [0], 'keep')).toBe('pin: # mine\n  # why\n');
  });
});

describe('one quoting', () => {
  it.each([
    'plain',
    'null',
    'yes',
    'on',
    '25',
    '0x1f',
    'a: b',
    '# no',
    "it's",
    '',
    ' x',
    'x ',
    '- a',
    '1:30.5',
  ])('of %j is read as that text', (text) => {
    expect(valueOf(`x-v: ${scalarToYaml(text)}\n`)).toEqual({ 'x-v': text });
    expect(valueOf(`{ x-v: ${toFlowYaml([text])} }\n`)).toEqual({ 'x-v': [text] });
    expect(valueOf(`x-v: { ${keyToYaml(text)}: 1 }\n`)).toEqual({ 'x-v': { [text]: 1 } });
  });

  it('leaves plain what people write plainly', () => {
    expect(
      toFlowYaml({ start: '2026-10-05T20:10', times: { harbor: '1:31.8' }, on: 'emulator', none: undefined }),
    ).toBe('{ start: 2026-10-05T20:10, times: { harbor: 1:31.8 }, on: emulator }');
  });
});

it('insertions at one offset keep their order, before what is replaced there', () => {
  const edits = [{ start: 1, end: 2, text: 'B' }, insertion(1, '1'), insertion(1, '2'), insertion(3, '!')];
  expect(applyEdits('abc', edits)).toBe('a12Bc!');
  expect(applyEdits('abc', [])).toBe('abc');
});

it.each([
  ['', '\n'],
  ['a', '\n'],
  ['a\nb\r\n', '\n'],
  ['a\r\nb\n', '\r\n'],
])('the line ending of %j is %j', (text, ending) => {
  expect(lineEndingOf(text)).toBe(ending);
});
