import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked, findingsOf, fixed } from '../../marked.ts';

describe('lone-spot', () => {
  const code = 'lone-spot';
  const spots = (...names: string[]) =>
    route(harbor(names.map((name, at) => `{ use: vault, id: u${at}, spot: ${name} }`).join(', ') + ', hop'));

  it('is found where another spot of the segment is spelled alike, and mended where that one has several uses', async () => {
    const slip = spots('gate', '⟦gaet⟧', 'gate');
    await expectMarked(slip, code);
    expect(await findingsOf(await fixed(slip))).toEqual([]);
    expect((await fixed(slip))['a.route.yaml']).toContain('id: u1, spot: gate }');
    const [first, second] = await expectMarked(spots('⟦gate⟧', '⟦gatte⟧'), code);
    expect(first?.message).toContain('Did you mean `gatte`?');
    expect([first?.fix, second?.fix]).toEqual([undefined, undefined]);
  });

  it('is not found while a use waits for the one that it excludes', async () => {
    expect(await findingsOf(spots('gate'))).toEqual([]);
    expect(await findingsOf(spots('gate', 'quay'))).toEqual([]);
  });
});

describeFixOnSample('lone-spot', [
  {
    file: 'route',
    from: '      - crate-vault\n      - { use: gate-roll',
    to: '      - { use: crate-vault, spot: gaet }\n      - { use: gate-roll',
  },
]);
