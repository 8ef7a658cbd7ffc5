import { describe, expect, it } from 'vitest';
import { weekOfDays } from '../../builders/weekFile.ts';
import { expectMarked } from '../../marked.ts';

describe('long-practice-day', () => {
  it('is found above two hours, and says what pain means', async () => {
    const [finding] = await expectMarked(weekOfDays('{ mon: 120, sat: ⟦121⟧ }'), 'long-practice-day');
    expect(finding?.message).toMatch(/hands and wrists.*pain is a reason to stop and to see a clinician/);
    expect(finding?.severity).toBe('hint');
  });
});
