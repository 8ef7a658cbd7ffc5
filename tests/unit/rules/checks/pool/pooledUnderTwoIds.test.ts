import { describe, expect, it } from 'vitest';
import { poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, plainRoute, underlined } from '../../marked.ts';

const route = plainRoute.replace('difficulty: 3,', 'difficulty: 3, was: [box-vault, box-jump],');
const brief = { runners: 4, difficulty: 3, brief: true };
const pool = (...ids: string[]) =>
  poolText({ route: 'a.route.yaml', techniques: Object.fromEntries(ids.map((id) => [id, brief])) });

describe('pooled-under-two-ids', () => {
  it('is found at the former ids where the id of today is there too, wherever it stands', async () => {
    const text = pool('box-jump', 'crate-vault', 'box-vault');
    const files = {
      'a.route.yaml': route,
      'a.pool.yaml': text.replace('box-jump:', '⟦box-jump⟧:').replace('box-vault:', '⟦box-vault⟧:'),
    };
    const [first] = await expectMarked(files, 'pooled-under-two-ids');
    expect(first?.message).toBe(
      '`box-jump` is called `crate-vault` now, and the pool speaks of it under `crate-vault`, too. Only that is used. Make the pool again with `routewright pool`.',
    );
    expect(first?.related.map((place) => underlined(files, place))).toEqual(['a.pool.yaml: crate-vault']);
  });

  it('is found at the second of two former ids', async () => {
    const text = pool('box-jump', 'box-vault').replace('box-vault:', '⟦box-vault⟧:');
    await expectMarked({ 'a.route.yaml': route, 'a.pool.yaml': text }, 'pooled-under-two-ids');
  });
});
