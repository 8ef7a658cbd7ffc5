import { describe, expect, it } from 'vitest';
import { expectMarked, findingsOf, plainRoute, underlined } from '../../marked.ts';

describe('learning-but-left-out', () => {
  it('is found where it is left out, by its former id too', async () => {
    const files = {
      'a.route.yaml': plainRoute.replace('saves: 3', 'saves: 3, was: [box-vault]'),
      'a.week.yaml': 'route: a.route.yaml\nstates: { box-vault: learning }\nleave_out: [⟦crate-vault⟧]\n',
    };
    const [finding] = await expectMarked(files, 'learning-but-left-out');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.week.yaml: learning']);
  });

  it('is not found for a technique of the run that is only left out of practice', async () => {
    for (const state of ['in-run', 'unlearned'])
      expect(
        await findingsOf({
          'a.route.yaml': plainRoute,
          'a.week.yaml': `route: a.route.yaml\nstates: { crate-vault: ${state} }\nleave_out: [crate-vault]\n`,
        }),
      ).toEqual([]);
  });
});
