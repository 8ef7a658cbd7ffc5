import { describe, expect, it } from 'vitest';
import { week } from '../../builders/weekFile.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('target-out-of-reach', () => {
  it('is found below what the route can give', async () => {
    // 92.4 s and 128 s, less 3.2, 7.5 and 1.8 s, less four times the root of 1.1² + 1.4²: 200.8 s.
    await expectMarked(week('target: ⟦"3:20.7"⟧\n'), 'target-out-of-reach');
    expect(await findingsOf(week('target: "3:20.9"\n'))).toEqual([]);
  });
});
