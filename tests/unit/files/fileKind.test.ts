import { expect, it } from 'vitest';
import { fileKindOf, stemOf } from '../../../server/src/files/fileKind.ts';

it.each([
  ['lanternfall.route.yaml', 'route'],
  ['file:///a/b/Lanternfall.PRACTICE.YML', 'practice'],
  ['a.b.runs.yaml', 'runs'],
  ['week.week.yml', 'week'],
  ['lanternfall.pool.yaml', 'pool'],
  ['route.yaml', undefined],
  ['lanternfall.route.yaml.bak', undefined],
  ['lanternfall.route.json', undefined],
])('tells the kind of %s by its ending', (name, kind) => {
  expect(fileKindOf(name)).toBe(kind);
});

it('gives what stands before the ending', () => {
  expect(stemOf('a/lanternfall.route.yaml')).toBe('a/lanternfall');
  expect(stemOf('notes.txt')).toBe('notes.txt');
});
