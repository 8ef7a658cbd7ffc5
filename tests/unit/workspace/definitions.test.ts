import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OrderedIdMap } from '../../../server/src/incremental/orderedIdMap.ts';
import { DefinitionCache } from '../../../server/src/workspace/groupFiles.ts';
import type { RouteFile } from '../../../server/src/workspace/project.ts';

const name = fc.constantFrom('crate-vault', 'wall-kick', 'lamp-hop', 'rope-swing', 'oil-slick');
const technique = fc.record({ id: name, was: fc.array(fc.record({ id: name }), { maxLength: 2 }) });
/** A list of techniques after an edit: most are the very same objects as before. */
const edit = fc.record({
  at: fc.nat(4),
  remove: fc.nat(1),
  insert: fc.array(technique, { maxLength: 1 }),
});

const file = (uri: string, techniques: readonly unknown[]): RouteFile =>
  ({ uri, document: { techniques } }) as unknown as RouteFile;

function said(definitions: DefinitionCache, chain: readonly RouteFile[]): unknown {
  const { techniques, ownTechniques, renamed } = definitions.techniquesOf(chain);
  const ids = ['crate-vault', 'wall-kick', 'lamp-hop', 'rope-swing', 'oil-slick'];
  return {
    byId: [...techniques],
    looked: ids.map((id) => [techniques.get(id), techniques.has(id)]),
    size: techniques.size,
    techniqueList: techniques.list,
    ownTechniques,
    renamed: [...renamed],
  };
}

describe('the techniques of a route', () => {
  it('are after any edits what they are from nothing', () => {
    fc.assert(
      fc.property(fc.array(technique), fc.array(technique), fc.array(edit), (own, base, edits) => {
        const kept = new DefinitionCache();
        const extended = file('file:///base.route.yaml', base);
        let list: readonly unknown[] = own;
        for (const { at, remove, insert } of [{ at: 0, remove: 0, insert: [] }, ...edits]) {
          list = [...list.slice(0, at), ...insert, ...list.slice(at + remove)];
          for (const chain of [
            [file('file:///a.route.yaml', list)],
            [file('file:///b.route.yaml', list), extended],
          ])
            expect(said(kept, chain)).toEqual(said(new DefinitionCache(), chain));
        }
      }),
    );
  });

  it('are told apart by the first of an id, in their order', () => {
    const [first, second, other] = [{ id: 'a' }, { id: 'a' }, { id: 'b' }];
    const found = OrderedIdMap.fromLists([[first, other], [second]]);
    expect([...found.values()]).toEqual([first, other]);
    const [own, more] = [[first, second], [other]];
    expect(OrderedIdMap.fromLists([own, more]).list).toEqual([first, other]);
    expect(OrderedIdMap.fromLists([more, more]).list).toBe(more);
    expect(found.get('a')).toBe(first);
    expect(found.get('c')).toBeUndefined();
    expect([...found.keys()]).toEqual(['a', 'b']);
    const seen: unknown[] = [];
    found.forEach((one, id) => seen.push([id, one]));
    expect(seen).toEqual([...found.entries()]);
  });
});
