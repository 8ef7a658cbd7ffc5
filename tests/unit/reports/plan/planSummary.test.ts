import { describe, expect, it } from 'vitest';
import { planSummary, type SummarisedPlan } from '../../../../server/src/reports/plan/planSummary.ts';

const last = { morning: 'Mon 2026-12-28', gain: 14, low: 8.2, high: 21.9 };

/** What is said of a plan with this set and, day by day, these techniques; a day without a session is empty. */
function summary(set: string, days: readonly string[], more: Partial<SummarisedPlan> = {}): string {
  const plan = {
    set: [...set],
    days: days.map((blocks) => ({ blocks: [...blocks].map((technique) => ({ technique })) })),
    last,
    ...more,
  };
  return planSummary(plan, (id) => id.toUpperCase());
}

describe('the summary of a plan', () => {
  it('says with what to begin and how many join, where others follow', () => {
    expect(summary('ab', ['ab', '', 'cd', '', 'ef'])).toBe(
      'Begin with A and B; 4 more join this week as places become free. The plan is expected to save 8 to 22 s a run by Mon 2026-12-28.',
    );
    expect(summary('ab', ['ab', 'ac'])).toMatch(/^Begin with A and B; 1 more joins this week as places/);
  });

  it('speaks of places only where somebody makes room', () => {
    expect(summary('a', ['a', '', 'ab'])).toMatch(/^Begin with A; 1 more joins this week\. The plan/);
  });

  it('counts nobody who joins after the days that are shown', () => {
    const week = ['ab', 'ab', '', '', '', '', ''];
    expect(summary('ab', [...week, 'cd'])).toMatch(/^Practise A and B each session\./);
  });

  it('says each session only where each session has all of the set', () => {
    expect(summary('ab', ['ab', '', 'bab'])).toMatch(/^Practise A and B each session\./);
    expect(summary('abc', ['ab', 'cb'])).toMatch(/^Practise A, B and C in turn, up to 2 a session\./);
    expect(summary('abc', ['ab', 'abc'])).toMatch(/^Practise A, B and C in turn\./);
    expect(summary('abc', ['ab', 'cb', 'de'])).toMatch(
      /^Begin with A, B and C in turn, up to 2 a session; 2 more join/,
    );
  });

  it('promises nothing where nothing is saved, and says where nothing is planned', () => {
    expect(summary('a', ['a'], { last: { ...last, gain: 0 } })).toBe('Practise A each session.');
    expect(summary('a', ['a'], { last: undefined })).toBe('Practise A each session.');
    expect(summary('', [''])).toBe('No practice is planned.');
  });
});
