/** What a runner is told of the course of a block: of its first tries and of its end. */
import { addCounts } from '../../model/core/counts.ts';
import type { AttemptCount } from '../../model/core/types.ts';
import { courseRules } from '../../model/review/blockCourse.ts';
import type { BlockCourse } from '../../model/review/blockCourse.ts';
import { formatCount, formatPercent } from '../../text/format.ts';
import { heading, prose, type PagePart } from '../page.ts';

/** What is said of a block has at least this chance; its opposite is said below what is left of it. */
const sure = 0.9;

/** Fewest blocks from which it is said that the first tries are no worse than the others. */
const enoughBlocks = 20;

/** The parts of a page about the course of a block; none where nothing is sure. */
export function blockCourseParts(course: BlockCourse | null): PagePart[] {
  if (course === null) return [];
  const sentences = [...firstTries(course), ...lastTries(course)];
  if (sentences.length === 0) return [];
  const from = `This rests on ${formatCount(course.blocks, 'block')} that you logged try by try.`;
  return [heading('How a block goes'), prose([...sentences, from].join(' '))];
}

function firstTries({ blocks, first, middle, last, chanceColdStart }: BlockCourse): string[] {
  const counts = `${share(first)} of the first ${courseRules.first} tries, ${share(addCounts(middle, last))} of the others`;
  if (chanceColdStart >= sure)
    return [
      `The first tries of a block land less often than later ones: ${counts}. Learning within the block is not enough to ` +
        'explain that.',
      'In a run every try is a first try, so expect less there. To practise that, pause before each try of a block now and ' +
        'then.',
    ];
  if (chanceColdStart > 1 - sure || blocks < enoughBlocks) return [];
  return [`The first tries of a block land about as often as later ones: ${counts}.`];
}

function lastTries({ first, middle, last, chanceTiring }: BlockCourse): string[] {
  if (chanceTiring < sure) return [];
  return [
    `Toward the end of a block you land less often: ${share(last)} of the tries in its last third, ` +
      `${share(addCounts(first, middle))} of those before. Shorter blocks would cost you little.`,
  ];
}

function share({ landed, tries }: AttemptCount): string {
  return formatPercent(tries === 0 ? 0 : landed / tries);
}
