import { describe, expect, it } from 'vitest';
import { week } from '../../builders/weekFile.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('own-time-far-off', () => {
  it('is found where the two times cannot be of the same segment', async () => {
    await expectMarked(week('times: { harbor: { time: ⟦139⟧ } }\n'), 'own-time-far-off');
    await expectMarked(week('times: { harbor: { time: ⟦61⟧ } }\n'), 'own-time-far-off');
    expect(await findingsOf(week('times: { harbor: { time: 138 }, rope-yard: { time: 86 } }\n'))).toEqual([]);
  });
});
