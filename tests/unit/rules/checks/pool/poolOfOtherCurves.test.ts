import { describe, expect, it } from 'vitest';
import { poolVersion } from '../../../../../server/src/model/pool/poolVersion.ts';
import { poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, findingsOf, plainRoute } from '../../marked.ts';

const techniques = { 'lamp-hop': { runners: 90, difficulty: 3, brief: true } };

describe('pool-of-other-curves', () => {
  it('is all that is found of such a pool, and says which Routewright is newer', async () => {
    const files = (model: number) => ({
      'a.route.yaml': plainRoute,
      'a.pool.yaml': poolText({ route: 'a.route.yaml', techniques }).replace('model: 1', `model: ⟦${model}⟧`),
    });
    const [newer] = await expectMarked(files(poolVersion + 1), 'pool-of-other-curves');
    expect(newer?.message).toMatch(
      /^This pool was made by a newer Routewright: .* version 2 .* version 1\. /,
    );
    expect(newer?.message).toContain('Get the newer Routewright, or make the pool again with this one');
  });

  it('is not found for this version, nor where none can be read: that is a finding of reading', async () => {
    const text = poolText({ route: 'a.route.yaml', model: poolVersion });
    const codes = async (pool: string) =>
      (await findingsOf({ 'a.route.yaml': plainRoute, 'a.pool.yaml': pool })).map(({ code }) => code);
    expect(await codes(text)).toEqual([]);
    expect(await codes(text.replace(/model: .*\n/, ''))).toEqual(['missing-key']);
    expect(await codes(text.replace(/model: .*/, 'model: 0'))).toEqual(['out-of-range']);
  });
});
