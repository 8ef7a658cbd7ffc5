import { describe, expect, it } from 'vitest';
import { routeOf } from '../../builders/routeOfTechniques.ts';
import { expectMarked } from '../../marked.ts';

describe('slow-cycle', () => {
  // From 30 s on from attempt to attempt, what short-term memory holds has faded (common practice, no source).
  it('is found from 30 s on, at the longer part', async () => {
    const way = routeOf({ vault: 'practice: { attempt: 6, reload: ⟦24.5⟧ }' });
    const [finding] = await expectMarked({ 'a.route.yaml': way }, 'slow-cycle');
    expect(finding?.message).toContain('every 30.5 s');
    expect(finding?.message).toContain('`rank --cycle vault=15` says how far that would lift it');
    expect(finding?.severity).toBe('warning');
    await expectMarked({ 'a.route.yaml': routeOf({ vault: 'practice: { attempt: ⟦40⟧ }' }) }, 'slow-cycle');
    const exactly = routeOf({ vault: 'practice: { attempt: 6, reload: ⟦24⟧ }' });
    const [edge] = await expectMarked({ 'a.route.yaml': exactly }, 'slow-cycle');
    expect(edge?.message).toContain('every 30 s');
    await expectMarked(
      { 'a.route.yaml': routeOf({ vault: 'practice: { attempt: 6, reload: 23.9 }' }) },
      'slow-cycle',
    );
  });
});
