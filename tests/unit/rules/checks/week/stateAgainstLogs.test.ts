import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { week } from '../../builders/weekFile.ts';
import { expectMarked, findingsOf, fixed } from '../../marked.ts';

describe('state-against-logs', () => {
  it('is found where the logs contradict it', async () => {
    const files = (state: string, start: string) => ({
      ...week(`states: { crate-vault: ${state} }\n`),
      'a.practice.yaml': `route: a.route.yaml\nsessions: [{ start: ${start}, blocks: [{ technique: crate-vault, minutes: 25 }] }]\n`,
    });
    const slip = files('⟦unlearned⟧', '2026-10-05');
    await expectMarked(slip, 'state-against-logs');
    expect((await fixed(slip))['a.week.yaml']).toContain('states: { crate-vault: learning }');
    expect(await findingsOf(files('unlearned', '2026-10-05'), { today: '2026-11-05' })).toEqual([]);
    expect(await findingsOf(files('in-run', '2026-10-05'))).toEqual([]);
  });
});

describeFixOnSample(
  'state-against-logs',
  [{ file: 'week', from: 'oil-slick: learning', to: 'oil-slick: unlearned' }],
  { restores: true },
);
