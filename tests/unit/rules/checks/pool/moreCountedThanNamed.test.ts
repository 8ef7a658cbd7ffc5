import { describe, expect, it } from 'vitest';
import { digests, poolText } from '../../../../helpers/poolFiles.ts';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

const brief = { difficulty: 3, brief: true };
const text = poolText({
  route: 'a.route.yaml',
  runners: digests(4),
  techniques: {
    'crate-vault': { ...brief, runners: 4 },
    'rope-swing': { ...brief, runners: 6 },
    'lamp-hop': { ...brief, runners: 5 },
  },
});

describe('more-counted-than-named', () => {
  it('is found once, at the first technique with more runners than the pool', async () => {
    const files = { 'a.route.yaml': exampleRoute, 'a.pool.yaml': text.replace('runners: 6', 'runners: ⟦6⟧') };
    const [finding] = await expectMarked(files, 'more-counted-than-named');
    expect(finding?.message).toBe(
      '`rope-swing` counts 6 runners, and the pool names 4. So does 1 more. Make the pool again with `routewright pool`.',
    );
  });

  it('is not found where a digest could not be read', async () => {
    const broken = text.replace('"a00000000000"', 'nobody');
    const found = await findingsOf({ 'a.route.yaml': exampleRoute, 'a.pool.yaml': broken });
    expect(found.map(({ code }) => code)).toEqual(['wrong-value']);
  });
});
