import { describe, expect, it } from 'vitest';
import { block, practiced } from '../../builders/plainLogs.ts';
import { expectMarked, underlined } from '../../marked.ts';

describe('attempts-exceed-minutes', () => {
  // 5 s a cycle are 12 attempts a minute: 300 in 25 minutes, 330 with the tolerance of 10 %.
  it.each([
    ['landed: [20, 331]', true],
    ['landed: [20, 330]', false],
    ['attempts: 400', true],
    ['attempts: 300, seen: [6, 10]', false],
    [`tape: ${'lm'.repeat(166)}`, true],
    [`tape: ${'lm'.repeat(150)}`, false],
  ])('looks at %s', async (count, found) => {
    const minutes = found ? '⟦25⟧' : '25';
    const files = practiced(block(`technique: crate-vault, minutes: ${minutes}, ${count}`));
    const findings = await expectMarked(files, 'attempts-exceed-minutes');
    for (const finding of findings) {
      expect(finding.severity).toBe('warning');
      expect(finding.related.map((place) => underlined(files, place))).toEqual(['a.route.yaml: practice']);
    }
  });
});
