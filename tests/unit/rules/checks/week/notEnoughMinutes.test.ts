import { describe, expect, it } from 'vitest';
import { weekOfDays } from '../../builders/weekFile.ts';
import { expectMarked } from '../../marked.ts';

describe('not-enough-minutes', () => {
  it('is found where a day has minutes, but too few for a block', async () => {
    const [monday] = await expectMarked(
      weekOfDays('{ mon: ⟦15⟧, tue: 20, wed: 0, sun: ⟦19.5⟧ }'),
      'not-enough-minutes',
    );
    expect(monday?.message).toContain('15 minutes on Monday are too few');
    expect(monday?.severity).toBe('warning');
  });
});
