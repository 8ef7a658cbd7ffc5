import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { removePath } from '../../../../server/src/files/edit/removePath.ts';
import { applyEdits } from '../../../../server/src/files/edit/textEdit.ts';
import type { Path } from '../../../../server/src/files/yaml/tree.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';

/** The text after what stands at a path was taken out; undefined where no edit is sure to fit. */
function removed(text: string, path: Path): string | undefined {
  const edit = removePath(readSource('route', text), path);
  return edit && applyEdits(text, [edit]);
}

describe('taking a key out', () => {
  it('takes it with its comma from a flow map', () => {
    const text = 'a: { x: 1, y: 2, z: 3 }\nb: 1\n';
    expect(removed(text, ['a', 'x'])).toBe('a: { y: 2, z: 3 }\nb: 1\n');
    expect(removed(text, ['a', 'y'])).toBe('a: { x: 1, z: 3 }\nb: 1\n');
    expect(removed(text, ['a', 'z'])).toBe('a: { x: 1, y: 2 }\nb: 1\n');
  });

  it('takes its line, and what stands below it, from a block map', () => {
    const text = 'a:\n  x: 1 # one\n  y:\n    - 2\n    - 3\n  # three\n  z: 3\n';
    expect(removed(text, ['a', 'x'])).toBe('a:\n  y:\n    - 2\n    - 3\n  # three\n  z: 3\n');
    expect(removed(text, ['a', 'y'])).toBe('a:\n  x: 1 # one\n  # three\n  z: 3\n');
    expect(removed(text, ['a', 'z'])).toBe('a:\n  x: 1 # one\n  y:\n    - 2\n    - 3\n  # three\n');
  });

  it('moves the next key up where the first shares its line with a dash', () => {
    expect(removed('a:\n  - x: 1\n    y: 2\n    z: 3\n', ['a', 0, 'x'])).toBe('a:\n  - y: 2\n    z: 3\n');
  });

  it('leaves alone what is not there, or the last of its kind', () => {
    expect(removed('a: { x: 1 }\nb: 1\n', ['a', 'x'])).toBeUndefined();
    expect(removed('a: { x: 1 }\nb: 1\n', ['a', 'y'])).toBeUndefined();
    expect(removed('a: [1]\nb: 1\n', ['a', 0])).toBeUndefined();
    expect(removed('a: 1\nb: 1\n', ['c', 'd'])).toBeUndefined();
  });
});

describe('taking an item out', () => {
  it('takes it from a flow list', () => {
    expect(removed('a: [x, y, z]\n', ['a', 1])).toBe('a: [x, z]\n');
    expect(removed('a: [x, y]\n', ['a', 1])).toBe('a: [x]\n');
  });

  it('takes all lines of an entry, and no other', () => {
    const text = 'a:\n  - x: 1\n    y: 2 # two\n\n  - x: 3\n    y: [4,\n      5]\nb: 1\n';
    expect(removed(text, ['a', 0])).toBe('a:\n\n  - x: 3\n    y: [4,\n      5]\nb: 1\n');
    expect(removed(text, ['a', 1])).toBe('a:\n  - x: 1\n    y: 2 # two\n\nb: 1\n');
  });

  it('keeps the ends of lines that the file has', () => {
    expect(removed('a:\r\n  - x\r\n  - y\r\nb: 1\r\n', ['a', 0])).toBe('a:\r\n  - y\r\nb: 1\r\n');
    expect(removed('a:\n  - x\n  - y', ['a', 1])).toBe('a:\n  - x\n');
  });
});

it('says afterwards exactly what the file said without it, or changes nothing', () => {
  const key = fc.constantFrom('x', 'y', 'zed');
  const leaf = fc.oneof(fc.integer({ min: 0, max: 99 }), fc.constantFrom('one', '"two #"', 'a b'));
  const flow = fc.oneof(
    leaf.map(String),
    fc.array(leaf, { maxLength: 3 }).map((items) => `[${items.join(', ')}]`),
    fc.dictionary(key, leaf, { maxKeys: 3 }).map(
      (map) =>
        `{ ${Object.entries(map)
          .map(([name, value]) => `${name}: ${value}`)
          .join(', ')} }`,
    ),
  );
  const entries = fc.dictionary(key, fc.tuple(flow, fc.constantFrom('', ' # said', '\n')), { minKeys: 1 });
  let made = 0;
  fc.assert(
    fc.property(
      fc.array(entries, { minLength: 1, maxLength: 3 }),
      fc.nat(9),
      fc.nat(9),
      (list, at, which) => {
        const text = `a:\n${list
          .map((map) =>
            Object.entries(map)
              .map(
                ([name, [value, tail]], first) => `  ${first === 0 ? '-' : ' '} ${name}: ${value}${tail}\n`,
              )
              .join(''),
          )
          .join('')}`;
        const index = at % list.length;
        const keys = Object.keys(list[index]!);
        const name = keys[which % (keys.length + 1)];
        const after = removed(text, name === undefined ? ['a', index] : ['a', index, name]);
        if (after === undefined) return;
        made++;
        const value = (toValue(readSource('route', text).tree) as { a: object[] }).a;
        const wanted =
          name === undefined
            ? value.filter((_, other) => other !== index)
            : value.map((map, other) =>
                other === index
                  ? Object.fromEntries(Object.entries(map).filter(([one]) => one !== name))
                  : map,
              );
        expect(toValue(readSource('route', after).tree)).toEqual({ a: wanted });
      },
    ),
    { seed: 5, numRuns: 200 },
  );
  expect(made).toBeGreaterThan(100);
});
