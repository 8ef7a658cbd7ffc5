import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PracticeEntry } from '../../../../server/src/model/core/types.ts';
import { blockCourse, courseRules } from '../../../../server/src/model/review/blockCourse.ts';
import { chance } from '../../../arena/random.ts';

function entry(tape: string, at = 0): PracticeEntry {
  return { technique: 'a', day: at, order: at, minutes: 25, tape };
}

/** How simulated blocks go: what the first try lacks, for how many tries, and the change over a block; in log odds. */
interface Course {
  readonly lack: number;
  readonly lasts: number;
  readonly drift: number;
}

function simulate(seed: number, blocks: number, { lack, lasts, drift }: Course, tries = 60): PracticeEntry[] {
  const random = chance(seed);
  return Array.from({ length: blocks }, (_, at) => {
    const level = random.normal() * 0.8;
    const own = drift + 0.3 * random.normal();
    const letters = Array.from({ length: tries }, (__, j) => {
      const logOdds = level + (own * j) / tries - lack * Math.exp(-j / lasts);
      return random.next() < 1 / (1 + Math.exp(-logOdds)) ? 'l' : 'm';
    });
    return entry(letters.join(''), at);
  });
}

/** In how many of 20 logs of 30 blocks something was found. */
function found(course: Course, of: 'chanceColdStart' | 'chanceTiring'): number {
  const logs = Array.from({ length: 20 }, (_, seed) => blockCourse(simulate(seed + 1, 30, course))!);
  return logs.filter((one) => one[of] >= 0.9).length;
}

describe('the course of a block', () => {
  it('begins badly where the first tries of simulated blocks land less often', () => {
    expect(found({ lack: 1.2, lasts: 5, drift: 0 }, 'chanceColdStart')).toBeGreaterThanOrEqual(13);
  });

  it('does not begin badly where nothing is lacking, nor where tries land more often as the block goes on', () => {
    expect(found({ lack: 0, lasts: 5, drift: 0 }, 'chanceColdStart')).toBeLessThanOrEqual(1);
    expect(found({ lack: 0, lasts: 5, drift: 0.8 }, 'chanceColdStart')).toBeLessThanOrEqual(1);
  });

  it('tires where tries land less often as it goes on, and only there', () => {
    expect(found({ lack: 0, lasts: 5, drift: -0.8 }, 'chanceTiring')).toBeGreaterThanOrEqual(18);
    expect(found({ lack: 0, lasts: 5, drift: 0.3 }, 'chanceTiring')).toBe(0);
  });

  it('counts the first tries, the last third and those between', () => {
    const course = blockCourse([entry('mmmllllllmml'), entry('lmmllllllmmm')])!;
    expect(course).toMatchObject({
      blocks: 2,
      first: { landed: 1, tries: 6 },
      middle: { landed: 10, tries: 10 },
      last: { landed: 3, tries: 8 },
    });
  });

  it('says nothing of blocks whose order tells nothing: too short, all landed, none landed, not logged try by try', () => {
    const { shortest } = courseRules;
    const tapes = ['l', 'lm'.repeat(shortest).slice(0, shortest - 1), 'l'.repeat(40), 'm'.repeat(40)];
    expect(blockCourse(tapes.map((tape) => entry(tape)))).toBeNull();
    expect(blockCourse([{ technique: 'a', day: 1, order: 1, minutes: 25 }])).toBeNull();
  });

  it('is finite for any tape, and looks only at the first tries of 100,000', () => {
    const letters = fc.string({ unit: fc.constantFrom('l', 'm'), maxLength: 150 });
    fc.assert(
      fc.property(fc.array(letters, { minLength: 1, maxLength: 3 }), (tapes) => {
        const course = blockCourse(tapes.map((tape) => entry(tape)));
        if (course === null) return;
        for (const value of [course.chanceColdStart, course.chanceTiring]) {
          expect(value).toBeGreaterThanOrEqual(0);
          expect(value).toBeLessThanOrEqual(1);
        }
        expect(Number.isFinite(course.firstTryLacks)).toBe(true);
      }),
      { numRuns: 20 },
    );
    const course = blockCourse([entry('lmm'.repeat(33_334))])!;
    expect(course.first.tries + course.middle.tries + course.last.tries).toBe(courseRules.longest);
  });
});
