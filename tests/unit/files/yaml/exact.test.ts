import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import type { FileKind } from '../../../../server/src/files/fileKind.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';
import { edits, history, same } from './edits.ts';
import { plain } from '../plain.ts';
import { texts } from './texts.ts';

const kind = fc.constantFrom<FileKind>('route', 'practice', 'runs', 'week', 'pool');

function lies(start: number, end: number, text: string): boolean {
  return start >= 0 && start <= end && end <= text.length && !/[\r\n]/.test(text.slice(start, end));
}

const runs = { numRuns: 50 };

describe('a file edited at random', () => {
  it('reads the same from its previous reading as from nothing', () => {
    fc.assert(
      fc.property(kind, edits, (of, all) => {
        let previous = readSource(of, texts[of]);
        for (const text of history(texts[of], all)) {
          previous = readSource(of, text, previous);
          const anew = readSource(of, text);
          same([previous.value, previous.problems, previous.tree], [anew.value, anew.problems, anew.tree]);
        }
      }),
      runs,
    );
  });

  // S: the npm package `yaml` (reads the file as one, by its own rules), with keys as written.
  it('means in pieces what it means as a whole', () => {
    fc.assert(
      fc.property(kind, edits, (of, all) => {
        for (const text of history(texts[of], all)) {
          const { tree, value, problems } = readSource(of, text);
          const whole = parseDocument(text, {
            uniqueKeys: true,
            stringKeys: true,
            prettyErrors: false,
            logLevel: 'error',
          });
          if (whole.errors.length + whole.warnings.length > 0) expect(problems).not.toEqual([]);
          // The reference reads on past these two; we set them apart.
          else if (problems.some(({ code }) => code === 'control-character' || code === 'merge-conflict'))
            continue;
          else if (tree.entries.length > 0) {
            if (problems.some(({ message }) => message.startsWith('Nothing above is named'))) continue;
            const reference: unknown = whole.toJS();
            same(plain(toValue(tree)), reference);
            if (problems.length === 0) same(plain(value), reference);
          }
        }
      }),
      runs,
    );
  });

  it('has every problem inside the text, on one line', () => {
    fc.assert(
      fc.property(kind, edits, (of, all) => {
        for (const text of history(texts[of], all)) {
          for (const problem of readSource(of, text).problems) {
            for (const { start, end } of [problem, problem.related ?? problem]) {
              if (!lies(start, end, text)) expect({ start, end, text }).toBe('on one line of the text');
            }
            if (!/[.?]$/.test(problem.message)) expect(problem.message).toBe('a sentence');
          }
        }
      }),
      runs,
    );
  });
});

describe('a file half typed', () => {
  it.each(['route', 'practice', 'runs', 'week'] as const)('%s: reads at every length', (of) => {
    const text = texts[of];
    let previous = readSource(of, '');
    for (let length = 1; length <= text.length; length++) {
      const typed = text.slice(0, length);
      previous = readSource(of, typed, previous);
      for (const { start, end } of previous.problems) {
        if (!lies(start, end, typed)) expect({ start, end, typed }).toBe('on one line of the text');
      }
    }
    expect(previous.problems).toEqual([]);
  });

  it('keeps the entries above the line that is being typed', () => {
    const text = texts.route;
    for (let length = text.indexOf('  rope-swing:\n'); length < text.length; length++) {
      const { value } = readSource('route', text.slice(0, length));
      expect(Object.keys(value.techniques as object)).toEqual(
        expect.arrayContaining(['crate-vault', 'wall-kick', 'lamp-clip', 'lamp-hop']),
      );
      expect(value.segments).toHaveLength(3);
    }
  });
});
