import type { Segment } from '../../files/documents/documents.ts';
import type { EntryContext } from './dependencyCache.ts';

/** What a segment's techniques save together, each at the upper end of its range, and the best of luck with them. */
export function maxTimeSaved({ uses, luck }: Segment, context: EntryContext): number {
  let sum = 0;
  for (const use of uses) {
    const technique = context.technique(use.technique);
    const saves = technique && (use.saves ?? technique.saves);
    if (saves) sum += saves.mean + 2 * saves.sd;
  }
  for (const { adds } of luck) sum += Math.max(0, -adds);
  return sum;
}
