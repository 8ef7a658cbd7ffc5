import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('retry-too-dear', () => {
  it('is found from what landing brings back on', async () => {
    // Landing brings back 3.2 s saved and 1.4 s not lost.
    await expectMarked(route(harbor('{ use: vault, retry: ⟦4.7⟧ }, hop')), 'retry-too-dear');
    expect(await codes(harbor('{ use: vault, retry: 4.5 }, hop'))).toEqual([]);
    const key = '{ use: vault, retry: 9, take: key }, { use: hop, with: key }';
    expect(await codes(harbor(key))).toEqual([]);
  });
});
