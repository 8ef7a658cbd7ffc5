import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked, fixed } from '../../marked.ts';

describe('max-tries-without-retry', () => {
  it('is found without the seconds that each try costs', async () => {
    const code = 'max-tries-without-retry';
    const files = route(harbor('{ use: vault, ⟦max_tries⟧: 3 }, hop'));
    await expectMarked(files, code);
    expect((await fixed(files))['a.route.yaml']).toContain('[{ use: vault }, hop]');
  });
});

describeFixOnSample(
  'max-tries-without-retry',
  [{ file: 'route', from: '      - net-climb\n', to: '      - { use: net-climb, max_tries: 4 }\n' }],
  { changesNoNumber: true },
);
