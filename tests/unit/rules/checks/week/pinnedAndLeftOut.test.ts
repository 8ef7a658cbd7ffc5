import { describe, expect, it } from 'vitest';
import { expectMarked, plainRoute, underlined } from '../../marked.ts';

describe('pinned-and-left-out', () => {
  it('is found where it is left out, by its former id too', async () => {
    const files = {
      'a.route.yaml': plainRoute.replace('saves: 3', 'saves: 3, was: [box-vault]'),
      'a.week.yaml': 'route: a.route.yaml\npin: [box-vault]\nleave_out: [⟦crate-vault⟧]\n',
    };
    const [finding] = await expectMarked(files, 'pinned-and-left-out');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.week.yaml: box-vault']);
    await expectMarked(
      { ...files, 'a.week.yaml': 'route: a.route.yaml\npin: [box-vault]\n' },
      'pinned-and-left-out',
    );
  });
});
