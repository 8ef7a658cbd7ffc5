import { describe, expect, it } from 'vitest';
import { routeOf } from '../../builders/routeOfTechniques.ts';
import { expectMarked, findingsOf, underlined } from '../../marked.ts';

describe('needs-cycle', () => {
  it('shows the loop from its first member on, with each step beside it', async () => {
    const files = {
      'a.route.yaml': routeOf({
        free: 'needs: [c]',
        b: 'needs: [free-too, ⟦c⟧]',
        c: 'needs: [d]',
        d: 'needs: [free-too, b]',
        'free-too': 'loses: 1',
      }),
    };
    const [finding] = await expectMarked(files, 'needs-cycle');
    expect(finding?.message).toBe(
      'These techniques need each other in a circle: b → c → d → b. Remove one of these needs.',
    );
    expect(finding?.related.map((place) => `${underlined(files, place)}, ${place.message}`)).toEqual([
      'a.route.yaml: d, `c` needs `d`.',
      'a.route.yaml: b, `d` needs `b`.',
    ]);
  });

  it('reports each loop once, and a technique that needs itself', async () => {
    const route = routeOf({
      a: 'needs: [⟦b⟧]',
      b: 'needs: [a]',
      c: 'needs: [⟦c⟧]',
      d: 'needs: [⟦e⟧]',
      e: 'needs: [a, d]',
    });
    const findings = await expectMarked({ 'a.route.yaml': route }, 'needs-cycle');
    expect(findings[1]?.message).toContain('`c` needs itself');
  });

  it('is reported in the base only where a route extends one with a loop', async () => {
    const base = routeOf({ a: 'needs: [⟦b⟧]', b: 'needs: [a]' });
    await expectMarked(
      { 'a.route.yaml': base, 'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n' },
      'needs-cycle',
    );
  });

  it('names only some members of a long loop', async () => {
    const n = 300;
    const ids = Array.from({ length: n }, (_, at) => `t${at}`);
    const route = routeOf(Object.fromEntries(ids.map((id, at) => [id, `needs: [t${(at + 1) % n}]`])), '');
    const found = (await findingsOf({ 'a.route.yaml': route })).filter(({ code }) => code === 'needs-cycle');
    expect(found).toHaveLength(1);
    expect(found[0]?.message).toContain('t0 → t1 → ');
    expect(found[0]?.message.length).toBeLessThan(200);
  });

  it('is not found where two paths lead to one technique', async () => {
    await expectMarked(
      { 'a.route.yaml': routeOf({ a: 'needs: [b, c]', b: 'needs: [d]', c: 'needs: [d]', d: 'loses: 1' }) },
      'needs-cycle',
    );
  });
});
