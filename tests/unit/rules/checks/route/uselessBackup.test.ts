import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('useless-backup', () => {
  it('is found for the same technique, and for one that saves nothing', async () => {
    await expectMarked(route(harbor('{ use: vault, backup: ⟦vault⟧ }, hop')), 'useless-backup');
    await expectMarked(
      route(
        harbor('{ use: vault, backup: ⟦nod⟧ }, hop, nod, { use: kick }'),
        '  nod: { difficulty: 1, saves: 0 }\n  kick: { difficulty: 3, saves: 2, loses: 1, needs: [nod] }\n',
      ),
      'useless-backup',
    );
    expect(await codes(harbor('{ use: vault, backup: hop }, hop'))).toEqual([]);
  });
});
