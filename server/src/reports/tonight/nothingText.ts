import type { NextPractice, NotPractised, NothingToPractise } from '../../model/tonight/whyNothing.ts';
import { sessionLimits } from '../../model/week/sessions.ts';
import { formatWeekday } from '../../text/calendar.ts';
import { formatCount, formatList, formatMinutes } from '../../text/format.ts';

/** That there is nothing to practise, and why. */
export interface NothingText {
  /** `Nothing.` or `Nothing more.`; empty where the reason says it. */
  readonly opening: string;
  /** Why, and when there is something. Whole sentences. */
  readonly reason: string;
}

const nothingBecause = (reason: string): NothingText => ({ opening: 'Nothing.', reason });
const nothingMoreBecause = (reason: string): NothingText => ({ opening: 'Nothing more.', reason });

/** Why there is nothing to practise today, and when there is. */
export function nothingText(nothing: NothingToPractise): NothingText {
  switch (nothing.why) {
    case 'no techniques':
      return nothingBecause(
        'The route has no technique yet. Add one under techniques: with its difficulty and what it saves.',
      );
    case 'nothing left':
      return nothingLeftText(nothing.counts);
    case 'no minutes':
      return nothing.next === null
        ? nothingBecause(
            'No day of the coming weeks has minutes for practice. The week file gives them, for example days: { mon: 60, wed: 60, sat: 90 }.',
          )
        : nothingBecause(`Today has no minutes for practice. ${nextText(nothing.next)}`);
    case 'minutes used':
      return nothingMoreBecause(`Today's minutes are used. ${nextText(nothing.next)}`);
    case 'too few minutes':
      return nothingBecause(
        `Today has ${formatMinutes(nothing.minutes)}, and a block takes at least ${sessionLimits.shortest} min. ${nextText(nothing.next)}`,
      );
    case 'day is full':
      return nothingMoreBecause(
        `Each technique of the practice set had its time today, at most an hour. ${nextText(nothing.next)}`,
      );
  }
}

function nextText(next: NextPractice | null): string {
  if (next === null) return 'No day of the coming weeks has practice.';
  return `The next practice is on ${formatWeekday(next.day)} (${formatMinutes(next.minutes)}).`;
}

function nothingLeftText({ competent, leftOut, waiting, hopeless }: NotPractised): NothingText {
  const all = competent + leftOut + waiting + hopeless;
  if (competent === all) return nothingBecause('Every technique is in the run, and runs keep them up.');
  if (leftOut === all) return nothingBecause('The week file leaves every technique out (leave_out:).');
  if (hopeless === all)
    return nothingBecause(
      'No technique is expected to pay in runs within the coming weeks, however it is practised.',
    );
  if (waiting === all) return nothingBecause('Every technique waits for something else.');
  const groups = [
    { count: competent, one: 'is', many: 'are', what: 'in the run' },
    { count: leftOut, one: 'is', many: 'are', what: 'left out' },
    { count: waiting, one: 'waits', many: 'wait', what: 'for something else' },
    { count: hopeless, one: 'is', many: 'are', what: 'not expected to pay within the coming weeks' },
  ].filter(({ count }) => count > 0);
  // Only the first number needs its noun.
  const parts = groups.map(({ count, one, many, what }, index) =>
    index === 0
      ? `${formatCount(count, `technique ${one}`, `techniques ${many}`)} ${what}`
      : `${formatCount(count, one, many)} ${what}`,
  );
  return { opening: '', reason: `Nothing is left to practise: ${formatList(parts)}.` };
}
