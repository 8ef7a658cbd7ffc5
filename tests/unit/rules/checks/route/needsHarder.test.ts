import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('needs-harder', () => {
  it('is found where what is needed is two steps harder', async () => {
    const kick = (difficulty: number, needed: string) =>
      `  clip: { difficulty: ${difficulty}, saves: 5, loses: 1 }\n  kick: { difficulty: 4, saves: 2, loses: 1, needs: [${needed}] }\n`;
    await expectMarked(route(harbor('vault, hop, clip, kick'), kick(6, '⟦clip⟧')), 'needs-harder');
    expect(await codes(harbor('vault, hop, clip, kick'), kick(5.5, 'clip'))).toEqual([]);
  });
});
