import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('item-taken-too-late', () => {
  it('is found where it is used before it is taken, also within a segment', async () => {
    const code = 'item-taken-too-late';
    const [finding] = await expectMarked(
      route(harbor('{ use: hop, with: ⟦oil⟧ }, { use: vault, take: oil }')),
      code,
    );
    expect(finding?.severity).toBe('error');
    await expectMarked(route(harbor('vault, { use: hop, take: oil, with: ⟦oil⟧ }')), code);
    const again = '{ use: vault, take: oil }, { use: hop, with: oil }, { use: vault, id: b, take: oil }';
    expect(await codes(harbor(again))).toEqual([]);
  });
});
