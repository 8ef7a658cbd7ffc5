import { describe, expect, test } from 'vitest';
import { idFrom, isId, longestId } from '../../../server/src/files/schema/ids.ts';
import { readRouteTables } from '../../../server/src/routeTables/readRouteTables.ts';
import { segmentText, techniqueText } from '../../../server/src/routeTables/routeText.ts';

const known = {
  segments: [{ id: 'harbor', name: 'Harbor gate', techniques: ['wall-kick', 'rope-dash'] }],
  techniques: [{ id: 'wall-kick', name: 'Wall kick' }],
  uses: ['wall-kick', 'wall-kick@second'],
};

function partsOf(text: string) {
  return readRouteTables([{ name: 'pasted', text }], new Map(), known);
}

describe('beside a route that exists', () => {
  test('segments get ids and uses of their own', () => {
    const read = partsOf('segment\ttime\ttechniques\nHarbor\t1:00\tWall kick\n');
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    expect(read.segments.map((segment) => segmentText(segment, '  '))).toEqual([
      '  - id: harbor-2\n    name: Harbor\n    time: 1:00\n    techniques:\n      - { use: wall-kick, id: third }',
    ]);
  });

  test('techniques may need those of the route', () => {
    const read = partsOf('technique\tsaves\tdifficulty\tneeds\nCrate vault\t3.2\t4\twall-kick\n');
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    expect(read.techniques.map((technique) => techniqueText(technique, ''))).toEqual([
      'crate-vault:\n  name: Crate vault\n  difficulty: 4\n  saves: 3.2\n  needs: [wall-kick]',
    ]);
  });

  test.each([
    [
      'a technique by name',
      'technique\tsaves\tdifficulty\nWall  Kick\t3\t4\nHop\t1\t2\n',
      ['hop'],
      ['Wall kick'],
    ],
    [
      'a technique by id',
      'technique\tsaves\tdifficulty\nwall-kick\t3\t4\nHop\t1\t2\n',
      ['hop'],
      ['Wall kick'],
    ],
    ['a segment by id', 'id\tname\ttime\nharbor\tPier\t1:00\nyard\tYard\t50\n', ['yard'], ['Harbor gate']],
    ['a segment by name', 'segment\ttime\nharbor gate\t1:00\nYard\t50\n', ['yard'], ['Harbor gate']],
  ])('%s that is there already is skipped', (_, text, added, skipped) => {
    const read = partsOf(text);
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    expect([...read.segments, ...read.techniques].map(({ id }) => id)).toEqual(added);
    expect(read.skipped).toEqual(skipped);
  });

  test('techniques are used in segments that are there, with what differs, and no use is added twice', () => {
    const read = partsOf(
      'technique\tsaves\tdifficulty\tsegment\nHop\t3\t4\tHarbor gate\nRope dash\t2\t3\tHarbor gate\n',
    );
    if ('faults' in read) throw new Error(JSON.stringify(read.faults));
    expect(read.techniques.map(({ id }) => id)).toEqual(['hop', 'rope-dash']);
    expect(read.usesOfKnown).toEqual([{ segment: 'harbor', uses: [{ technique: 'hop' }] }]);
  });
});

test.each([
  ['Crate vault', 'crate-vault'],
  ["  It's  a_trap!  ", 'its-a-trap'],
  ['Ångström Straße', 'angstrom-strasse'],
  ['2nd gate', 'technique-2nd-gate'],
  ['灯', 'technique-1'],
  ['…', 'technique-1'],
  ['x'.repeat(300), 'x'.repeat(longestId - 4)],
])('the id of %j is %s', (name, id) => {
  expect(idFrom(name, 'technique', () => false)).toBe(id);
  expect(isId(id)).toBe(true);
  const next = idFrom(name, 'technique', (one) => one === id);
  expect(isId(next)).toBe(true);
  expect(next).toMatch(/-2$/);
});
