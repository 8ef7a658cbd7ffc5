import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('many-hours', () => {
  it('is found by difficulty and cycle', async () => {
    // P: 50 attempts at difficulty 1, 550 at 5 and 9000 at 10 until four in five land, as the scale says of itself.
    const throwing = (difficulty: string, reload: number) =>
      `  throw: { difficulty: ${difficulty}, saves: 21, loses: 12, practice: { attempt: 10, reload: ${reload} } }\n`;
    const uses = harbor('vault, hop, throw');
    const [finding] = await expectMarked(route(uses, throwing('⟦10⟧', 14)), 'many-hours'); // 9000 × 24 s = 60 h
    expect(finding?.message).toContain('30 to 120 hours');
    expect(await codes(uses, throwing('10', 9))).toEqual([]); // 9000 × 19 s = 47.5 h
    expect(await codes(uses, throwing('5', 19))).toEqual([]); // 550 × 29 s = 4.4 h
  });
});
