import { applyEdits } from '../files/edit/textEdit.ts';
import { readSource } from '../files/reading/reading.ts';
import type { SealLine } from './journalLines.ts';
import { logExcerpt } from './logExcerpt.ts';
import { planFlush, type FlushPlan, type FlushRefusal } from './planFlush.ts';

/**
 * The same as {@link planFlush}, for a text that has not been read: of a long log, only what matters is read where that
 * is certain to give the same.
 */
export function planText(
  kind: 'practice' | 'runs',
  text: string,
  seals: readonly SealLine[],
  dayStarts: number,
): FlushPlan | FlushRefusal {
  return planByExcerpt(kind, text, seals, dayStarts) ?? planFlush(readSource(kind, text), seals, dayStarts);
}

function planByExcerpt(
  kind: 'practice' | 'runs',
  text: string,
  seals: readonly SealLine[],
  dayStarts: number,
): FlushPlan | undefined {
  const excerpt = logExcerpt(kind, text, seals);
  const plan = excerpt && planFlush(excerpt.reading, seals, dayStarts);
  // What is not simply written is for the whole text to tell.
  if (!plan || 'problem' in plan || plan.unfit.length > 0) return undefined;
  const { at, length } = excerpt;
  if (plan.edits.some(({ start, end }) => start <= at && end >= at)) return undefined;
  const edits = plan.edits.map((edit) =>
    edit.start < at ? edit : { ...edit, start: edit.start + length, end: edit.end + length },
  );
  return { ...plan, edits, text: applyEdits(text, edits) };
}
