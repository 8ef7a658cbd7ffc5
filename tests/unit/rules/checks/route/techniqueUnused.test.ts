import { describe, expect, it } from 'vitest';
import { expectMarked } from '../../marked.ts';

describe('technique-unused', () => {
  it('is found where nothing used needs it', async () => {
    const route = `game: L
category: c
segments:
  - { id: harbor, time: 90, techniques: [{ use: top, backup: spare }] }
techniques:
  top: { difficulty: 3, saves: 2, needs: [middle] }
  middle: { difficulty: 3, saves: 2, needs: [bottom] }
  bottom: { difficulty: 3, saves: 2 }
  spare: { difficulty: 3, saves: 2 }
  ⟦idle⟧: { difficulty: 3, saves: 2, needs: [bottom] }
`;
    const [finding] = await expectMarked({ 'a.route.yaml': route }, 'technique-unused');
    expect(finding?.severity).toBe('hint');
  });

  it('is not found in a file of techniques alone, nor in the base of a route', async () => {
    const library = 'game: L\ncategory: c\ntechniques:\n  vault: { difficulty: 3, saves: 2 }\n';
    const category = 'game: L\ncategory: d\nextends: a.route.yaml\nsegments: [{ id: pier, time: 9 }]\n';
    await expectMarked({ 'a.route.yaml': library, 'b.route.yaml': category }, 'technique-unused');
  });
});
