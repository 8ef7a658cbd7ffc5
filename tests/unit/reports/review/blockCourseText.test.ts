import { describe, expect, it } from 'vitest';
import type { BlockCourse } from '../../../../server/src/model/review/blockCourse.ts';
import { blockCourseParts } from '../../../../server/src/reports/review/blockCourseText.ts';

const course: BlockCourse = {
  blocks: 24,
  first: { landed: 18, tries: 72 },
  middle: { landed: 300, tries: 600 },
  last: { landed: 120, tries: 300 },
  chanceColdStart: 0.5,
  firstTryLacks: 0.9,
  chanceTiring: 0.5,
};

function said(changes: Partial<BlockCourse>): string {
  return JSON.stringify(blockCourseParts({ ...course, ...changes }));
}

describe('what is told of the course of a block', () => {
  it('is nothing where nothing is sure, and where no block was logged try by try', () => {
    expect(blockCourseParts(course)).toEqual([]);
    expect(blockCourseParts(null)).toEqual([]);
  });

  it('is how often the first tries land and how often the others, where they land less often', () => {
    expect(said({ chanceColdStart: 0.95 })).toContain('25 % of the first 3 tries, 47 % of the others');
    expect(said({ chanceColdStart: 0.95 })).toContain('In a run every try is a first try');
  });

  it('is that they land as often, where that is sure from many blocks', () => {
    expect(said({ chanceColdStart: 0.05 })).toContain('about as often as later ones');
    expect(blockCourseParts({ ...course, chanceColdStart: 0.05, blocks: 5 })).toEqual([]);
  });

  it('is how the last third compares with what was before it, where blocks tire', () => {
    expect(said({ chanceTiring: 0.95 })).toContain(
      '40 % of the tries in its last third, 47 % of those before',
    );
  });
});
