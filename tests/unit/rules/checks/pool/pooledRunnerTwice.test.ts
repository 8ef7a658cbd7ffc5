import { describe, expect, it } from 'vitest';
import { digests, poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, plainRoute } from '../../marked.ts';

describe('pooled-runner-twice', () => {
  it('is found once, at the first that stands there again', async () => {
    const runners = digests(4);
    const text = poolText({ route: 'a.route.yaml', runners: [...runners, ...runners, 'a00000000009'] });
    const again = text.lastIndexOf('"a00000000000"');
    const marked = `${text.slice(0, again)}⟦"a00000000000"⟧${text.slice(again + 14)}`;
    const files = { 'a.route.yaml': plainRoute, 'a.pool.yaml': marked };
    const [finding] = await expectMarked(files, 'pooled-runner-twice');
    expect(finding?.message).toBe(
      'The runner "a00000000000" is in this list twice, so one person\'s practice may count for two. So are 3 more. Make the pool again with `routewright pool`.',
    );
  });
});
