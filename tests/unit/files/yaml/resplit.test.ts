import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sectionsByKind } from '../../../../server/src/files/fileKind.ts';
import { splitIntoChunks, type ChunkRange } from '../../../../server/src/files/yaml/splitIntoChunks.ts';
import { resplit, type ChunkLayout } from '../../../../server/src/files/yaml/resplit.ts';
import { practiceText, routeText } from './texts.ts';

/** What is known of a text that was cut into pieces. */
function cutOf(text: string, pieces: readonly ChunkRange[]): ChunkLayout {
  const strays = pieces.filter(({ stray }) => stray).length;
  return { text, chunks: pieces, starts: pieces.map(({ start }) => start), strays };
}

/** The pieces of `after`, as cut anew around the edit; undefined where the whole has to be cut. */
function again(
  before: string,
  after: string,
  kind: 'route' | 'practice' = 'route',
): ChunkRange[] | undefined {
  const pieces = splitIntoChunks(before, sectionsByKind[kind]);
  const cut = pieces && resplit(after, sectionsByKind[kind], cutOf(before, pieces));
  if (!cut) return undefined;
  const { from, to, shift } = cut;
  const behind = pieces.slice(to).map((piece) => ({
    ...piece,
    start: piece.start + shift,
    end: piece.end + shift,
  }));
  return [...pieces.slice(0, from), ...cut.pieces, ...behind];
}

/** How many pieces are cut anew by an edit. */
function anew(before: string, after: string): number | undefined {
  const pieces = splitIntoChunks(before, sectionsByKind.route)!;
  return resplit(after, sectionsByKind.route, cutOf(before, pieces))?.pieces.length;
}

describe('splitAgain', () => {
  it('cuts the piece of the edit and the one before', () => {
    expect(anew(routeText, routeText.replace('time: 163.5', 'time: 163.6'))).toBe(2);
    expect(anew(routeText, routeText.replace('    difficulty: 7\n', ''))).toBe(2);
    expect(anew(routeText, routeText.replace('  wall-kick:', '  new: { saves: 1 }\n  wall-kick:'))).toBe(3);
  });

  it('leaves to the whole what hangs on more than the pieces around', () => {
    // A half-typed line is judged by what stands below it.
    expect(again(routeText, routeText.replace(/  wall-kick:.*/, '  wall-kick'))).toBeUndefined();
    expect(again(routeText, `# ${routeText}`)).toBeUndefined();
    expect(again(routeText, routeText.replace('saves: 3.2\n', 'saves: 3.2\r'))).toBeUndefined();
  });

  it('puts in order again what an edit of indentation or of a section line moves', () => {
    for (const [what, by] of [
      ['  - id: rope-yard', '    - id: rope-yard'],
      ['  lamp-hop:\n', '    lamp-hop:\n'],
      ['  lamp-hop:\n', ' game: y\n  lamp-hop:\n'],
      ['\ntechniques:\n', '\ntechnique:\n'],
      ['\ntechniques:\n', '\n'],
      ['\nsegments:\n', '\n'],
    ] as const) {
      const after = routeText.replace(what, by);
      expect(after).not.toBe(routeText);
      expect([undefined, splitIntoChunks(after, sectionsByKind.route)]).toContainEqual(
        again(routeText, after),
      );
    }
  });

  it.each([3, 11260])('cuts as the whole would be cut, wherever it does (seed %i)', (seed) => {
    const inserted = [
      '',
      'x',
      ' ',
      '  ',
      '\n',
      '- ',
      ':',
      '\n  a: 1\n',
      '\n- b\n',
      '"',
      '#',
      'game: y\n',
      '\r\n',
    ];
    const parts = {
      kind: fc.constantFrom('route' as const, 'practice' as const),
      at: fc.integer({ min: 0, max: 10_000 }).map((part) => part / 10_000),
      remove: fc.nat(30),
      insert: fc.constantFrom(...inserted),
    };
    let cut = 0;
    const property = fc.property(fc.record(parts), ({ kind, at, remove, insert }) => {
      const before = kind === 'route' ? routeText : practiceText;
      const start = Math.floor(at * before.length);
      const after = before.slice(0, start) + insert + before.slice(start + remove);
      const pieces = again(before, after, kind);
      if (!pieces) return;
      cut++;
      expect(pieces).toEqual(splitIntoChunks(after, sectionsByKind[kind]));
    });
    fc.assert(property, { seed, numRuns: 1000 });
    expect(cut).toBeGreaterThan(300);
  });
});
