import { describe, expect, it } from 'vitest';
import { assess, prepareModelInSteps, rank, ModelCache } from '../../../../server/src/model/index.ts';
import { makeLoggedRoute, modelInputsOf } from '../../../bench/ranking.ts';

describe('preparing in steps', () => {
  it('changes no answer, whether all the steps are taken or only some', async () => {
    const made = makeLoggedRoute(5, { techniques: 30, blocks: 60, evenings: 1 });
    const [before, after] = await modelInputsOf(made);
    const [all, some] = [new ModelCache(), new ModelCache()];
    // A technique's logs a step, and more.
    const taken = Array.from(prepareModelInSteps(before, all)).length;
    expect(taken).toBeGreaterThan(30);
    const half = prepareModelInSteps(before, some);
    for (let step = 0; step < taken / 2; step++) half.next();
    for (const cache of [all, some]) {
      expect(rank(before, cache)).toEqual(rank(before));
      Array.from(prepareModelInSteps(after, cache));
      expect(assess(after, cache)).toEqual(assess(after));
    }
  });
});
