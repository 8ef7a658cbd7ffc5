import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('survive-unlikely', () => {
  it('is found below a half, and names the other chance', async () => {
    const [finding] = await expectMarked(
      route(harbor('vault, hop', ', survive: ⟦0.03⟧')),
      'survive-unlikely',
    );
    expect(finding?.message).toContain('write 0.97 if 0.03 is the chance to die');
    expect(await codes(harbor('vault, hop', ', survive: 0.5'))).toEqual([]);
  });
});
