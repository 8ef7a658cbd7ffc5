import { describe, expect, it } from 'vitest';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import {
  entryAround,
  entryOf,
  locate,
  spotAt,
  type Entry,
  type Item,
  type Path,
} from '../../../../server/src/files/yaml/tree.ts';
import { routeText } from './texts.ts';

const { tree } = readSource('route', routeText);
const textAt = (path: Path) => {
  const { value, key, exact } = locate(tree, path);
  return {
    value: routeText.slice(value.start, value.end),
    key: key && routeText.slice(key.start, key.end),
    exact,
  };
};

describe('locate', () => {
  it('finds values and keys in every kind of piece', () => {
    expect(textAt(['game'])).toEqual({ value: 'Lanternfall', key: 'game', exact: true });
    expect(textAt(['segments', 1, 'time'])).toEqual({ value: '"2:08"', key: 'time', exact: true });
    expect(textAt(['segments', 2, 'techniques', 1, 'max_tries']).value).toBe('5');
    expect(textAt(['techniques', 'lamp-clip', 'miss', 1, 'chance']).value).toBe('0.3');
    expect(textAt(['techniques', 'rope-swing'])).toMatchObject({ key: 'rope-swing', exact: true });
  });

  it('stops at the deepest place there is', () => {
    expect(textAt(['game', 'name'])).toMatchObject({ value: 'Lanternfall', exact: false });
    expect(textAt(['segments', 99, 'id']).exact).toBe(false);
    expect(textAt(['segments', 'id']).exact).toBe(false);
    expect(locate(undefined, ['a']).exact).toBe(false);
  });

  it('gives the place behind the key where nothing is written', () => {
    const text = 'game:\ncategory: x\n';
    expect(locate(readSource('route', text).tree, ['game'])).toMatchObject({
      value: { start: 4, end: 4 },
      exact: true,
    });
  });
});

describe('spotAt', () => {
  it('finds the way back from every key and value', () => {
    for (const path of [
      ['game'],
      ['segments', 0, 'techniques', 1, 'spot'],
      ['techniques', 'crate-vault', 'needs', 0],
      ['techniques', 'rope-swing', 'needs', 1],
    ]) {
      const { value, key } = locate(tree, path);
      expect(spotAt(tree, value.start)).toMatchObject({ path, part: 'value', span: value });
      expect(spotAt(tree, value.end)).toMatchObject({ path, part: 'value' });
      if (key) expect(spotAt(tree, key.start + 1)).toMatchObject({ path, part: 'key', span: key });
    }
  });

  it('finds nothing in nothing', () => {
    expect(spotAt(undefined, 0)).toBeUndefined();
  });
});

it('finds an entry by its key, the first where it stands twice', () => {
  const twice = readSource('route', 'game: a\ngame: b\n').tree;
  expect(entryOf(twice, 'game')).toBe(twice.entries[0]);
  expect(entryOf(twice, 'name')).toBeUndefined();
  expect(entryOf(undefined, 'game')).toBeUndefined();
});

describe('entryAround', () => {
  const around = (text: string, offset: number) => {
    const span = entryAround(readSource('route', text).tree, offset);
    return span && text.slice(span.start, span.end).trimEnd();
  };

  it('gives the entry of a section, or the key of the file', () => {
    const text = 'game: x\nsegments:\n  - id: a\n    time: 9\n  - id: b\ntechniques:\n  c: { saves: 1 }\n';
    expect(around(text, text.indexOf('x'))).toBe('game: x');
    expect(around(text, text.indexOf('time'))).toBe('id: a\n    time: 9');
    expect(around(text, text.indexOf('b\n'))).toBe('id: b');
    expect(around(text, text.indexOf('saves'))).toBe('c: { saves: 1 }');
    expect(around(text, text.indexOf('segments'))).toBeUndefined();
  });

  it('finds for every offset what a look through all entries finds', () => {
    const spans = ['segments', 'techniques'].flatMap((section) => {
      const { tree: entries, shift } = locate(tree, [section]);
      if (entries?.type !== 'list' && entries?.type !== 'map') return [];
      const nodes: readonly (Item | Entry)[] = entries.type === 'list' ? entries.items : entries.entries;
      return nodes.map((node) => {
        const by = shift + node.shift;
        const { start } = 'key' in node ? node.key : node.value!;
        return { start: start + by, end: node.value!.end + by };
      });
    });
    expect(spans.length).toBeGreaterThan(5);
    const first = spans[0]!.start;
    for (let offset = first; offset < spans.at(-1)!.end; offset++) {
      const expected = spans.findLast(({ start, end }) => start <= offset && offset < end);
      if (expected) expect(entryAround(tree, offset)).toEqual(expected);
    }
  });
});
