import { describe, it } from 'vitest';
import { block, practiced } from '../../builders/plainLogs.ts';
import { expectMarked } from '../../marked.ts';

describe('counts-disagree', () => {
  it.each([
    ['landed: [3, 6], tape: ⟦lml⟧'],
    ['landed: [3, 6], attempts: ⟦8⟧'],
    ['tape: lml, attempts: ⟦4⟧'],
    ['attempts: 9, seen: ⟦[3, 10]⟧'],
    ['landed: [2, 3], tape: lml, attempts: 3, seen: [1, 2]'],
    ['attempts: 180, seen: [12, 20]'],
  ])('looks at %s', async (counts) => {
    await expectMarked(practiced(block(`technique: crate-vault, minutes: 25, ${counts}`)), 'counts-disagree');
  });
});
