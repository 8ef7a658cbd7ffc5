import { describe, expect, test } from 'vitest';
import type { StandingKind } from '../../../../server/src/model/core/types.ts';
import { verdictOf, type VerdictFacts } from '../../../../server/src/model/review/verdict.ts';

const none = { landed: 0, tries: 0 };
const some = { landed: 3, tries: 9 };
const verdict = (kind: StandingKind, facts: Partial<Omit<VerdictFacts, 'standing'>> = {}) =>
  verdictOf({ standing: { kind }, practice: none, run: none, practised: null, ...facts });
const practised = (pastUse: boolean, crowded: boolean) => ({
  practice: some,
  practised: { pastUse, crowded },
});

describe('the word for a week', () => {
  test.each([
    ['again', 'slipped', 'slipped', 'slipped'],
    ['in-run', 'competent', 'overPractised', 'competent'],
    ['learning', 'steady', 'steady', 'tooFewDays'],
    ['aside', 'steady', 'steady', 'tooFewDays'],
    ['waiting', 'steady', 'steady', 'tooFewDays'],
    ['left-out', 'steady', 'steady', 'tooFewDays'],
    ['not-begun', 'steady', 'steady', 'tooFewDays'],
  ] as const)(
    'of a technique that is `%s`: %s; past its use %s; crowded %s',
    (kind, plain, past, crowded) => {
      expect(verdict(kind, { run: some })).toBe(plain);
      expect(verdict(kind, practised(true, false))).toBe(past);
      expect(verdict(kind, practised(false, true))).toBe(crowded);
    },
  );

  test('is `untried` only where nothing is logged and it is not in the run', () => {
    expect(verdict('not-begun')).toBe('untried');
    expect(verdict('learning')).toBe('untried');
    expect(verdict('in-run')).toBe('competent');
    // A block without a count is logged, too.
    expect(verdict('learning', { practised: { pastUse: false, crowded: false } })).toBe('steady');
  });
});
