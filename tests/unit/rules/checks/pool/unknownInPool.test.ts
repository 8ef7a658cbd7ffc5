import { describe, expect, it } from 'vitest';
import { poolText } from '../../../../helpers/poolFiles.ts';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, fixed, plainRoute } from '../../marked.ts';

const code = 'unknown-in-pool';
const count = { runners: 4, difficulty: 3, brief: true };
const pool = (ids: readonly string[], route = 'a.route.yaml') =>
  poolText({ route, techniques: Object.fromEntries(ids.map((id) => [id, count])) });

describe('unknown-in-pool', () => {
  it('is found at each technique that the route does not have, with the nearest name', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.pool.yaml': pool(['crate-valt', 'lamp-hop'])
        .replace('crate-valt:', '⟦crate-valt⟧:')
        .replace('lamp-hop:', '⟦lamp-hop⟧:'),
    };
    const [near, far] = await expectMarked(files, code);
    expect(near?.message).toBe(
      'The route has no technique `crate-valt`, so what the practice of 4 runners says of it is not used. Did you mean `crate-vault`? If that is its new id, write `was: [crate-valt]` on it in the route.',
    );
    expect(near?.fix).toMatchObject({ text: 'crate-vault', onRequest: true });
    expect(far?.message).toContain('If it was renamed, write `was: [lamp-hop]` on it');
    expect(far?.fix).toBeUndefined();
    expect((await fixed(files))['a.pool.yaml']).toContain('  crate-vault:\n    runners: 4');
  });

  it('offers no id that the pool has already', async () => {
    const files = { 'a.route.yaml': plainRoute, 'a.pool.yaml': pool(['crate-vault', 'crate-valt']) };
    const [finding, ...others] = await findingsOf(files);
    expect(others).toEqual([]);
    expect(finding?.fix).toBeUndefined();
  });

  it('is not found for a former id, nor for a technique of a route that is extended', async () => {
    const files = {
      'base.route.yaml': plainRoute.replace('difficulty: 3,', 'difficulty: 3, was: [box-vault],'),
      'a.route.yaml': 'game: Lanternfall\ncategory: all lamps\nextends: base.route.yaml\n',
      'a.pool.yaml': pool(['crate-vault']),
      'base.pool.yaml': pool(['box-vault'], 'base.route.yaml'),
    };
    expect(await findingsOf(files)).toEqual([]);
  });

  it('is found once, in the project of the route that the pool names', async () => {
    const files = {
      'base.route.yaml': plainRoute,
      'a.route.yaml': 'game: Lanternfall\ncategory: all lamps\nextends: base.route.yaml\n',
      'base.pool.yaml': pool(['lamp-hop'], 'base.route.yaml').replace('lamp-hop:', '⟦lamp-hop⟧:'),
    };
    await expectMarked(files, code);
  });

  it('is one finding for the pool of another route', async () => {
    const ids = Array.from({ length: 200 }, (_, at) => `other-${at}`);
    const [finding] = await expectMarked(
      { 'a.route.yaml': plainRoute, 'a.pool.yaml': pool(ids, '⟦a.route.yaml⟧') },
      code,
    );
    expect(finding?.message).toBe(
      "The route does not have 200 of the pool's 200 techniques: `other-0`, `other-1`, `other-2` and 197 more. Nothing that it says of them is used. Is it the pool of another route?",
    );
  });

  it('waits for a route that cannot be read to its end', async () => {
    const broken = `${plainRoute}  lamp-hop: { difficulty: 3, saves: [\n`;
    const found = await findingsOf({
      'a.route.yaml': broken,
      'a.pool.yaml': pool(['lamp-hop', 'b', 'c', 'd', 'e', 'f', 'g']),
    });
    expect(found.map((finding) => finding.code)).not.toContain(code);
  });
});

describeFixOnSample('unknown-in-pool', [{ file: 'pool', from: '  crate-vault:', to: '  crate-valt:' }]);
