import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChunkedText } from '../../../../server/src/files/yaml/chunk.ts';
import { parseYaml } from '../../../../server/src/files/yaml/parseYaml.ts';
import { readSource, type Reading } from '../../../../server/src/files/reading/reading.ts';
import type { Tree } from '../../../../server/src/files/yaml/tree.ts';
import { edits, history, same } from './edits.ts';

const useOf = (at: number): string => {
  const lines = [`      # ledge ${at}`];
  if (at % 3 === 0) return [...lines, '      - crate-vault'].join('\n');
  lines.push('      - use: wall-kick', `        id: ledge-${at}`, `        saves: 0.${at % 9}`);
  if (at % 5 === 1) lines.push('        notes: |', '          Wait, then go.', '', '          - no entry');
  if (at % 7 === 2) lines.push('        miss: [{ chance: 0.5,', '          loses: 3 }]');
  return lines.join('\n');
};
const uses = Array.from({ length: 200 }, (_, at) => useOf(at));
const text = `game: Lanternfall
category: any%
segments:
  - id: harbor
    time: 1:32.4
  - id: long-way-down
    name: "Long way
      down"
    techniques:
${uses.join('\n')}

    time: 48:12.5
    spread: 6.5
  - id: fish-market
    time: 163.5
techniques:
  crate-vault:
    difficulty: 4
  wall-kick:
    difficulty: 3
`;

/** The entries that were read in pieces, by their texts. */
function longOnes({ chunkedText: inParts }: Reading): [string, Tree | undefined, ChunkedText][] {
  if (!inParts) return [];
  const { chunks: parts, starts, text: all } = inParts;
  return parts.flatMap(({ parsed }, at) =>
    parsed.chunkedText ? [[all.slice(starts[at], starts[at + 1]), parsed.tree, parsed.chunkedText]] : [],
  );
}

/** How long a text is without the comments and blanks at its end; a comment has a blank before it. */
function lengthOf(text: string): number {
  let end = text.trimEnd().length;
  for (;;) {
    // The end of the line before is the blank before a comment that is a line of its own.
    let from = end;
    while (from > 0 && !/[\n\r\u2028\u2029]/.test(text[--from]!));
    const comment = text.slice(from, end).search(/\s#/);
    if (comment < 0) return end;
    end = text.slice(0, from + comment).trimEnd().length;
  }
}

/** A tree with its offsets counted from one place; what ends in comments or blanks ends before them. */
function placed(tree: Tree | undefined, all: string, by = 0): unknown {
  if (!tree) return undefined;
  const start = tree.start + by;
  const end = start + lengthOf(all.slice(start, tree.end + by));
  if (tree.type === 'map') {
    const entries = tree.entries.map(({ key, value, shift }) => [
      placed(key, all, by + shift),
      placed(value, all, by + shift),
    ]);
    return { start, end, flow: tree.flow, entries };
  }
  if (tree.type === 'list')
    return {
      start,
      end,
      flow: tree.flow,
      items: tree.items.map(({ value, shift }) => placed(value, all, by + shift)),
    };
  return { ...tree, start, end };
}

describe('an entry of many lines', () => {
  it('is read in pieces, of which an edit costs one', () => {
    const before = readSource('route', text);
    const [long] = longOnes(before);
    expect(longOnes(before)).toHaveLength(1);
    expect(long![2].chunks.length).toBeGreaterThan(uses.length);
    const at = text.indexOf('ledge-100') + 5;
    const [after] = longOnes(readSource('route', `${text.slice(0, at)}s${text.slice(at)}`, before));
    const anew = after![2].chunks.filter((part) => !long![2].chunks.includes(part));
    expect(anew.length).toBeLessThan(5);
    const known = new Set(long![2].chunks.map(({ parsed }) => parsed));
    expect(after![2].chunks.filter(({ parsed }) => !known.has(parsed))).toHaveLength(1);
  });

  it('means the same, at the same places, as read in one piece', () => {
    let seen = 0;
    fc.assert(
      fc.property(edits, (all) => {
        let previous = readSource('route', text);
        for (const edited of history(text, all)) {
          previous = readSource('route', edited, previous);
          for (const [own, tree] of longOnes(previous)) {
            const whole = parseYaml(own);
            same(placed(tree, own), placed(whole.tree, own));
            expect(whole.problems).toEqual([]);
            seen++;
          }
          const anew = readSource('route', edited);
          same([previous.value, previous.problems, previous.tree], [anew.value, anew.problems, anew.tree]);
        }
      }),
      { numRuns: 60 },
    );
    expect(seen).toBeGreaterThan(30);
  });

  it.each([
    ['a broken line', 'ledge-100', ': ['],
    ['a key that stands twice', '    spread: 6.5', '\n    time: 3'],
    ['an anchor', '    spread: ', '&far '],
    ['a line that stands too far left', '    spread: 6.5', '\n   spread: 6'],
  ])('is read as one with %s', (_, behind, insert) => {
    const at = text.indexOf(behind) + behind.length;
    const edited = text.slice(0, at) + insert + text.slice(at);
    expect(longOnes(readSource('route', edited, readSource('route', text)))).toEqual([]);
  });
});
