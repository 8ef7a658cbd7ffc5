import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { expectMarked, findingsOf, fixed } from '../../marked.ts';

describe('restart-unwritten', () => {
  it('is found once runs end early, and its fix writes what counts already', async () => {
    const unwritten = exampleRoute.replace('restart: 14\n', '');
    const files = (ended: string) => ({
      'a.route.yaml': unwritten.replace('category', '⟦category⟧'),
      'a.runs.yaml': `route: a.route.yaml\nruns: [{ start: 2026-10-05${ended} }]\n`,
    });
    const ended = files(', ended: { at: harbor, why: reset }');
    await expectMarked(ended, 'restart-unwritten');
    expect((await fixed(ended))['a.route.yaml']).toBe(exampleRoute.replace('restart: 14', 'restart: 10'));
    expect(await findingsOf({ ...files(''), 'a.route.yaml': unwritten })).toEqual([]);
  });
});

describeFixOnSample(
  'restart-unwritten',
  [{ file: 'route', from: 'restart: 14 # the title bell cannot be skipped\n', to: '' }],
  { changesNoNumber: true },
);
