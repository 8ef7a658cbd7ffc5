import { describe, expect, it } from 'vitest';
import { codes, ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked } from '../../marked.ts';

describe('run-without-end', () => {
  const code = 'run-without-end';

  it('is found where the last segment has no time, and names the one that would have come next', async () => {
    const [finding] = await expectMarked(ran(`${start}, ⟦times⟧: { harbor: 1:31 }`), code);
    expect(finding?.message).toContain('1 segment out of 2');
    expect(finding?.message).toContain('at: rope-yard');
  });

  it('is not found for a run with its end, its total, all its times, or none', async () => {
    expect(await codes(`${start}, times: { harbor: 1:31 }, total: 3:35`)).toEqual([]);
    expect(await codes(`${start}, times: { harbor: 1:31, rope-yard: 2:05 }`)).toEqual([]);
    expect(await codes(`${start}, times: { rope-yard: 2:05 }`)).toEqual([]);
    expect(await codes(`${start}, tried: { lamp-hop: [1, 1] }`)).toEqual([]);
  });
});
