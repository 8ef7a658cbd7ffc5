import { describe, expect, it } from 'vitest';
import { expectMarked, plainRoute, underlined } from '../../marked.ts';

describe('several-runners', () => {
  const noPractice = 'route: a.route.yaml\nsessions: []\n';
  const noRuns = 'route: a.route.yaml\nruns: []\n';
  const files = {
    'a.route.yaml': plainRoute,
    'a.practice.yaml': `runner: ⟦ann⟧\n${noPractice}`,
    'a.runs.yaml': `runner: "bob"\n${noRuns}`,
    'b.runs.yaml': `runner: bob\n${noRuns}`,
    'c.runs.yaml': noRuns,
  };

  it('names them, once for a route', async () => {
    const [finding] = await expectMarked(files, 'several-runners');
    expect(finding?.message).toContain('several runners: ann and bob');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual(['a.runs.yaml: "bob"']);
  });

  it('is content where one is chosen or only one is named', async () => {
    const unmarked = { ...files, 'a.practice.yaml': `runner: ann\n${noPractice}` };
    await expectMarked(unmarked, 'several-runners', { runner: 'bob' });
    await expectMarked({ ...files, 'a.practice.yaml': noPractice }, 'several-runners');
  });
});
