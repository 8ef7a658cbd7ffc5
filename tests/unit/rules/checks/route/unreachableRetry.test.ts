import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked, fixed } from '../../marked.ts';

describe('unreachable-retry', () => {
  it('is found where a miss ends the run, by the technique or by the use', async () => {
    const code = 'unreachable-retry';
    const deadly = '  skip: { difficulty: 8, saves: 18, ends_run: true }\n';
    const files = route(harbor('{ use: skip, ⟦backup⟧: hop }, hop, vault'), deadly);
    await expectMarked(files, code);
    expect((await fixed(files))['a.route.yaml']).toContain('[{ use: skip }, hop, vault]');
    await expectMarked(route(harbor('{ use: vault, ends_run: true, ⟦retry⟧: 2 }, hop')), code);
    expect(await codes(harbor('{ use: skip, loses: 4, backup: hop }, hop, vault'), deadly)).toEqual([]);
  });
});

describeFixOnSample('unreachable-retry', [
  { file: 'route', from: '      - tide-skip\n', to: '      - { use: tide-skip, backup: lamp-hop }\n' },
]);
