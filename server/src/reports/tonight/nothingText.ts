import type { NextPractice, NotPractised, NothingToPractise } from '../../model/tonight/whyNothing.ts';
import { sessionLimits } from '../../model/week/sessions.ts';
import { formatWeekday } from '../../text/calendar.ts';
import { formatCount, formatList, formatMinutes } from '../../text/format.ts';

/** Why there is nothing to practise today, and when there is. Whole sentences. */
export function nothingText(nothing: NothingToPractise): string {
  switch (nothing.why) {
    case 'no techniques':
      return 'Nothing. The route has no technique yet. Add one under techniques: with its difficulty and what it saves.';
    case 'nothing left':
      return nothingLeftText(nothing.counts);
    case 'no minutes':
      return nothing.next === null
        ? 'Nothing. No day of the coming weeks has minutes for practice. The week file gives them, for example days: { mon: 60, wed: 60, sat: 90 }.'
        : `Nothing. Today has no minutes for practice. ${nextText(nothing.next)}`;
    case 'minutes used':
      return `Nothing more. Today's minutes are used. ${nextText(nothing.next)}`;
    case 'too few minutes':
      return `Nothing. Today has ${formatMinutes(nothing.minutes)}, and a block takes at least ${sessionLimits.shortest} min. ${nextText(nothing.next)}`;
    case 'day is full':
      return `Nothing more. Each technique of the practice set had its time today, at most an hour. ${nextText(nothing.next)}`;
  }
}

function nextText(next: NextPractice | null): string {
  if (next === null) return 'No day of the coming weeks has practice.';
  return `The next practice is on ${formatWeekday(next.day)} (${formatMinutes(next.minutes)}).`;
}

function nothingLeftText({ competent, leftOut, waiting, hopeless }: NotPractised): string {
  const all = competent + leftOut + waiting + hopeless;
  if (competent === all) return 'Nothing. Every technique is in the run, and runs keep them up.';
  if (leftOut === all) return 'Nothing. The week file leaves every technique out (leave_out:).';
  if (hopeless === all)
    return 'Nothing. No technique is expected to pay in runs within the coming weeks, however it is practised.';
  if (waiting === all) return 'Nothing. Every technique waits for something else.';
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
  return `Nothing is left to practise: ${formatList(parts)}.`;
}
