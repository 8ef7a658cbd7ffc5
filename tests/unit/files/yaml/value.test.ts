import { describe, expect, it } from 'vitest';
import { parseYaml } from '../../../../server/src/files/yaml/parseYaml.ts';
import type { ListTree, MapTree, Tree } from '../../../../server/src/files/yaml/tree.ts';
import {
  indexedItems,
  originalIndex,
  toValue,
  valueAt,
  withIndices,
} from '../../../../server/src/files/yaml/value.ts';

const treeOf = (text: string) => parseYaml(text).tree;

describe('toValue', () => {
  it('leaves nodes out and remembers where a list item stood', () => {
    const tree = treeOf('[a, b, c, d]') as ListTree;
    const dropped = new Set<Tree>([tree.items[0]!.value!, tree.items[2]!.value!]);
    const list = toValue(tree, dropped) as string[];
    expect([...list]).toEqual(['b', 'd']);
    expect(indexedItems(list)).toEqual([
      [1, 'b'],
      [3, 'd'],
    ]);
    expect(originalIndex(list, 1)).toBe(3);
    expect(JSON.stringify(list)).toBe('["b","d"]');
  });

  it('leaves an entry out by its key or its value, and never lets a later one of that name in', () => {
    const tree = treeOf('{a: 1, b: 2, a: 3}') as MapTree;
    expect(toValue(tree)).toEqual({ a: 1, b: 2 });
    expect(toValue(tree, new Set([tree.entries[0]!.key]))).toEqual({ b: 2 });
    expect(toValue(tree, new Set([tree.entries[0]!.value!]))).toEqual({ b: 2 });
  });

  it('knows no special keys', () => {
    const value = toValue(treeOf('{__proto__: {a: 1}, constructor: 2}')) as Record<string, unknown>;
    expect(Object.getPrototypeOf(value)).toBeNull();
    expect(Object.keys(value)).toEqual(['__proto__', 'constructor']);
    expect(({} as { a?: number }).a).toBeUndefined();
  });

  it('builds what is anchored once, however often it is spoken of', () => {
    const value = toValue(treeOf('{a: &a [1], b: *a, c: *a}')) as Record<string, unknown>;
    expect(value).toEqual({ a: [1], b: [1], c: [1] });
    expect(value.b).toBe(value.c);
  });
});

it('counts items by their place where none was left out', () => {
  expect(indexedItems(['x'])).toEqual([[0, 'x']]);
  expect(indexedItems(undefined)).toEqual([]);
  expect(indexedItems(withIndices(['x'], [4]))).toEqual([[4, 'x']]);
});

it('finds the value at a path, or nothing', () => {
  expect(valueAt({ a: [{ b: 1 }] }, ['a', 0, 'b'])).toBe(1);
  expect(valueAt({ a: null }, ['a', 'b'])).toBeUndefined();
  expect(valueAt('text', ['length'])).toBeUndefined();
});
