import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('item-never-used', () => {
  it('is found where it is taken and never used, and what that costs', async () => {
    const [finding] = await expectMarked(
      route(harbor('{ use: vault, take: ⟦oil⟧, costs: 7 }, hop')),
      'item-never-used',
    );
    expect(finding?.message).toContain('costs 7 s');
    expect(await codes(harbor('{ use: vault, take: oil }, { use: hop, with: oil }'))).toEqual([]);
  });
});
