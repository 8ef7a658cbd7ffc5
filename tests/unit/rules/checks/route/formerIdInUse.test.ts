import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked, fixed } from '../../marked.ts';

describe('former-id-in-use', () => {
  it('is found where a former id leads to more than one technique', async () => {
    const code = 'former-id-in-use';
    const kick = (was: string) => `  kick: { difficulty: 4, saves: 2, loses: 1, was: [${was}] }\n`;
    const taken = route(harbor('vault, hop, kick'), kick('⟦hop⟧'));
    const [finding] = await expectMarked(taken, code);
    expect(finding?.message).toContain('is another technique today');
    expect((await fixed(taken))['a.route.yaml']).toContain('kick: { difficulty: 4, saves: 2, loses: 1 }');
    const twice = `${kick('old-id')}  clip: { difficulty: 4, saves: 2, loses: 1, was: [⟦old-id⟧] }\n`;
    const [other] = await expectMarked(route(harbor('vault, hop, kick, clip'), twice), code);
    expect(other?.message).toContain('`kick` had the id `old-id` too');
    expect(other?.fix).toBeUndefined();
    expect(await codes(harbor('vault, hop, kick'), kick('old-id, older-id'))).toEqual([]);
  });
});

describeFixOnSample(
  'former-id-in-use',
  [{ file: 'route', from: 'was: [rock-hop]', to: 'was: [rock-hop, wall-kick]' }],
  { changesNoNumber: true },
);
