import { describe, expect, it } from 'vitest';
import { digests, poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, findingsOf, plainRoute, underlined } from '../../marked.ts';

const pool = (count: number, route = 'a.route.yaml') => poolText({ route, runners: digests(count) });

describe('several-pools', () => {
  it('is found for every pool but that of most runners, with the command that merges them', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.pool.yaml': pool(3, '⟦a.route.yaml⟧'),
      'b.pool.yaml': pool(9),
      'c d.pool.yaml': pool(5, '⟦a.route.yaml⟧'),
    };
    const [first, second] = await expectMarked(files, 'several-pools');
    const message =
      "This pool is not used: for this route `b.pool.yaml` is. Merge them, so that each runner counts once: `routewright pool 'c d.pool.yaml' a.pool.yaml b.pool.yaml`.";
    expect([first?.message, second?.message]).toEqual([message, message]);
    expect(first?.related.map((place) => underlined(files, place))).toEqual(['b.pool.yaml: a.route.yaml']);
  });

  it('is not found beside a pool that is not used for another reason, nor for pools of two routes', async () => {
    const codes = async (files: Record<string, string>) => (await findingsOf(files)).map(({ code }) => code);
    const own = { 'a.route.yaml': plainRoute, 'a.pool.yaml': pool(3) };
    const other = poolText({ route: 'a.route.yaml', model: 99 });
    expect(await codes({ ...own, 'b.pool.yaml': other })).toEqual(['pool-of-other-curves']);
    const route = 'game: Lanternfall\ncategory: all lamps\nextends: a.route.yaml\n';
    expect(await codes({ ...own, 'b.route.yaml': route, 'b.pool.yaml': pool(9, 'b.route.yaml') })).toEqual(
      [],
    );
  });
});
