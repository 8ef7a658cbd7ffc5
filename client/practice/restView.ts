import type { PracticeData } from '../../server/src/protocol/practice/blockView.ts';
import { clockText } from '../../server/src/protocol/practice/pace.ts';
import { formatPercent } from '../../server/src/text/format.ts';
import { elementById, setShown, setText } from './elements.ts';

/**
 * What the block showed beside what was usual, what it changed, and the next block. Whatever is still being worked out
 * has its place from the beginning, so that nothing moves when it comes.
 */
export function drawRest({
  attempts,
  usual,
  standing,
  after,
  planning,
  unsaved,
  caution,
  next,
}: PracticeData): void {
  const landed = attempts.filter((one) => one.landed).length;
  const counted = `${landed} of ${attempts.length}, ${formatPercent(landed / Math.max(1, attempts.length))}`;
  const unknown = planning ? 'soon' : 'unknown';
  setText('result-landed', attempts.length > 0 ? counted : 'not counted');
  setText('result-usual', usual === '' ? 'unknown' : usual);
  setText('result-now', after?.usual ?? unknown);
  setText('result-standing', standingText(standing, after?.standing, unknown));
  elementById('save').classList.toggle('spent', !unsaved);
  setText('next', next ? `Start ${next.name}` : 'Start the Next Block');
  elementById('next').classList.toggle('spent', next === null || planning);
  setText('next-text', nextText(next, planning));
  setText('rest-caution', caution ?? '');
  setShown('rest-caution', caution !== null);
}

/** @param leftMs of the rest; 0 or less where it is over */
export function drawRestClock(leftMs: number): void {
  const isOver = leftMs <= 0;
  setText('rest-title', isOver ? 'The rest is over' : 'Rest');
  setText('rest-clock', isOver ? '' : clockText(leftMs));
  setText('rest-text', isOver ? 'Go on whenever you like.' : 'Nothing is counted now.');
}

function standingText(before: string, now: string | undefined, unknown: string): string {
  if (now === undefined) return unknown;
  return before === '' || before === now ? now : `${now}; before the block: ${before}`;
}

function nextText(next: PracticeData['next'], planning: boolean): string {
  if (planning) return 'Looking up the next block of today…';
  if (!next) return "Today's plan has no further block.";
  const from = next.from === '' ? '' : ` Start over at: ${next.from}.`;
  return `Next in today's plan: ${next.name}, ${next.minutes} min.${from}`;
}
