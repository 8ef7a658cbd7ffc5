import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, fixed } from '../../marked.ts';

describe('range-backwards', () => {
  it('is found in techniques and uses, and the fix turns it round', async () => {
    const files = {
      'a.route.yaml': `game: L
category: c
segments:
  - { id: harbor, time: 90, techniques: [{ use: vault, saves: ⟦16..9⟧, loses: 2..3 }] }
techniques:
  vault:
    difficulty: 3
    saves: ⟦"4.5..4"⟧
    loses: ⟦3..1⟧ # from recordings
`,
    };
    await expectMarked(files, 'range-backwards');
    const mended = await fixed(files);
    expect(mended['a.route.yaml']).toContain('saves: 9..16, loses: 2..3');
    expect(mended['a.route.yaml']).toContain('saves: 4..4.5\n    loses: 1..3 # from recordings');
    expect(await findingsOf(mended)).toEqual([]);
  });
});

describeFixOnSample(
  'range-backwards',
  [{ file: 'route', from: 'saves: 9..16, loses', to: 'saves: 16..9, loses' }],
  { restores: true },
);
