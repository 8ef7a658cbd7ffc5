import { describe, expect, it } from 'vitest';
import { routeOf } from '../../builders/routeOfTechniques.ts';
import { expectMarked } from '../../marked.ts';

describe('miss-chances', () => {
  const route = (miss: string, key = 'miss') => routeOf({ vault: `${key}: ${miss}` });

  it('is found where shares do not add up to 1', async () => {
    const [finding] = await expectMarked(
      { 'a.route.yaml': route('[{ chance: 0.5, loses: 2 }, { chance: 0.3, ends_run: true }]', '⟦miss⟧') },
      'miss-chances',
    );
    expect(finding?.message).toContain('0.8');
    await expectMarked(
      { 'a.route.yaml': routeOf({ vault: 'loses: 1' }, '{ use: vault, ⟦miss⟧: [{ chance: 0.9 }] }') },
      'miss-chances',
    );
  });

  it('is not found for a whole, nor for rounded thirds', async () => {
    await expectMarked({ 'a.route.yaml': route('[{ chance: 0.7 }, { chance: 0.3 }]') }, 'miss-chances');
    await expectMarked(
      { 'a.route.yaml': route('[{ chance: 0.33 }, { chance: 0.33 }, { chance: 0.33 }]') },
      'miss-chances',
    );
  });
});
