import { describe, expect, test } from 'vitest';
import { reviewWeek, type TechniqueReview } from '../../../../server/src/model/review/reviewWeek.ts';
import { standingSentence } from '../../../../server/src/queries/standingText.ts';
import { reviewReason } from '../../../../server/src/reports/review/reviewReason.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';
import { standing } from '../../../helpers/standings.ts';

const techniques = [technique('a'), technique('b', { difficulty: 1 })];
const segments = techniques.map(({ id }) => segment(`s-${id}`, 60, [use(id, 4, 2)]));
const practice = Array.from({ length: 12 }, (_, day) => block('a', day + 1, 100, 150, { order: day }));
const found = reviewWeek({
  route: route(segments, techniques),
  logs: { practice, runs: [] },
  asOfDay: 14,
  options: plainOptions,
});
const nameOf = (id: string): string => `The ${id}`;
const reason = (given: Partial<TechniqueReview>): string =>
  reviewReason({ ...found.techniques[0]!, trend: 0, ...given }, found, nameOf);
const spread = { minutes: 100, blocks: 4, days: 1, possibleDays: 4, wouldCount: 0.19, gainedPerHour: 0.01 };

describe('the reason of a review', () => {
  test('begins with the sentence of the standing, and has no more where the week adds nothing', () => {
    const stands = standing('a');
    expect(reason({ standing: stands, practised: null })).toBe(standingSentence(stands, nameOf));
  });

  test('tells crowded practice and practice past its use as facts of the week', () => {
    const told = reason({
      standing: standing('a', { kind: 'in-run', cause: { why: 'competent' }, tried: true }),
      practised: { ...spread, pastUse: true, crowded: true },
    });
    expect(told).toMatch(/^The chance that trying it in runs pays/);
    expect(told).toContain("Practised past its use: the week's 100 min gained about 0.01 s an hour");
    expect(told).toContain('where an hour on The b would gain');
    expect(told).toContain('Crowded: 4 blocks (100 min) on 1 day.');
    expect(told).toContain('for 19 % more.');
  });

  test('says of what is to be worked on again whether runs should go on trying it', () => {
    const again = { kind: 'again', cause: { why: 'costs time' }, tried: true } as const;
    expect(reason({ standing: standing('a', again), practised: null })).toContain('take the safe way');
    const slight = standing('a', { ...again, worthTrying: true });
    expect(reason({ standing: slight, practised: null })).toContain('go on trying it in runs');
  });

  test('a slip comes with the chance of seeing one where nothing slipped', () => {
    const test = {
      week: { landed: 5, tries: 22 },
      earlier: { landed: 90, tries: 110 },
      expected: 17.6,
      chance: 1 / 520,
      slipped: true,
    };
    const told = reason({
      standing: standing('a', { kind: 'again', cause: { why: 'slipped', test }, tried: true }),
      practised: null,
    });
    expect(told).toContain('In the four weeks before it landed 90 of 110.');
    expect(told).toContain('so few come once in about 520 such weeks');
  });
});
