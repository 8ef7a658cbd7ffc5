import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('spread-too-large', () => {
  it('is found above half the time', async () => {
    await expectMarked(route(harbor('vault, hop', ', spread: ⟦45.5⟧')), 'spread-too-large');
    expect(await codes(harbor('vault, hop', ', spread: 45'))).toEqual([]);
    await expectMarked(
      {
        ...route(harbor('vault, hop')),
        'a.week.yaml': 'route: a.route.yaml\ntimes: { harbor: { time: 88, spread: ⟦50⟧ } }\n',
      },
      'spread-too-large',
    );
  });
});
