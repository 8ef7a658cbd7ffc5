import { describe, expect, it } from 'vitest';
import { expectMarked, underlined } from '../../marked.ts';

describe('saves-too-much', () => {
  const route = (saves: string, use = '', extra = '') =>
    `game: L\ncategory: c\nsegments:\n  - id: harbor\n    time: 20\n    techniques: [${use || 'vault'}${extra}]\ntechniques:\n  vault: { difficulty: 3, saves: ${saves} }\n  clip: { difficulty: 3, saves: 12 }\n`;

  it('is found at the use, with the technique and the time beside it', async () => {
    const files = { 'a.route.yaml': route('21', '⟦vault⟧', ', clip') };
    const [finding] = await expectMarked(files, 'saves-too-much');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'a.route.yaml: 21',
      'a.route.yaml: 20',
    ]);
  });

  it('is found at the saving where the use has its own, by the middle of a range', async () => {
    await expectMarked(
      { 'a.route.yaml': route('2', '{ use: vault, saves: ⟦18..24⟧ }', ', clip') },
      'saves-too-much',
    );
    await expectMarked(
      { 'a.route.yaml': route('2', '{ use: vault, saves: 14..24, spot: a }', ', { use: clip, spot: a }') },
      'saves-too-much',
    );
  });

  it('is found at the time where savings are too much together, but not for those that exclude each other', async () => {
    const together = route('9', '', ', clip').replace('time: 20', 'time: ⟦20⟧');
    const [finding] = await expectMarked({ 'a.route.yaml': together }, 'saves-too-much');
    expect(finding?.message).toContain('save 21 s');
    await expectMarked(
      { 'a.route.yaml': route('9', '{ use: vault, spot: a }', ', { use: clip, spot: a }') },
      'saves-too-much',
    );
  });
});
