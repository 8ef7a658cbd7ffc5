import type { Plan, PlanDay } from '../../model/week/planWeek.ts';
import { sessionLimits } from '../../model/week/sessions.ts';
import type { UnusedMinutes, UnusedRule } from '../../model/week/sessions.ts';
import { formatCount, formatList, formatTwoFigures } from '../../text/format.ts';
import { swapText } from './swapText.ts';

/** The words for the notes, and what is shown in another place. */
export interface PlanNotesOptions {
  readonly nameOf: (technique: string) => string;
  /** The name of a day, from its day number. */
  readonly dayOf: (day: number) => string;
  /** Minutes that the week gives each day for practice. */
  readonly givenMinutes: readonly number[];
  /** Whether the gain of one long session a week, and the swaps on offer, are shown outside the notes. */
  readonly toldElsewhere: boolean;
}

/** Changes of the practice set within this many days get a sentence; later ones are too far away. */
const changeNoteDays = 14;

/**
 * What a person should know about a plan in addition to its days: whole sentences in a fixed order. The command line
 * and the editor show the same ones.
 */
export function planNotes(plan: Plan, words: PlanNotesOptions): string[] {
  return [
    ...minuteNotes(plan, words),
    ...plan.notPlanned.map(({ technique, reason }) => `${words.nameOf(technique)} is not planned. ${reason}`),
    ...changeNotes(plan, words),
    ...turnNotes(plan, words),
    ...swapNotes(plan, words),
    ...forecastNotes(plan, words),
    ...longDayNotes(plan, words),
  ];
}

/** Fewer unused minutes than this are not shown to people: no plan uses every minute. */
const leastShownMinutes = 5;

const ruleTexts: Readonly<Record<UnusedRule, string>> = {
  'short-block': `a block takes at least ${sessionLimits.shortest} min`,
  'hour-on-one': 'at most an hour a day on one technique',
  'nothing-to-practise': 'no technique is left to practise',
  rests: `a block takes at least ${sessionLimits.shortest} min after its rest`,
};

/**
 * What a rule says about unused minutes.
 *
 * @param techniques number of techniques of the route
 */
export function ruleText(rule: UnusedRule, techniques: number): string {
  return rule === 'nothing-to-practise' && techniques === 0
    ? 'the route has no techniques yet'
    : ruleTexts[rule];
}

/**
 * The unused minutes of a day with the rule that forbids their use, such as
 * `15 min unused: a block takes at least 20 min`; undefined where they are too few to be worth a line.
 *
 * @param techniques number of techniques of the route
 */
export function unusedText(unused: UnusedMinutes | null, techniques: number): string | undefined {
  if (unused === null || unused.minutes < leastShownMinutes) return undefined;
  return `${unused.minutes} min unused: ${ruleText(unused.rule, techniques)}`;
}

function minuteNotes({ days, set, standings }: Plan, { givenMinutes: given }: PlanNotesOptions): string[] {
  if (given.every((minutes) => minutes === 0))
    return ['The week file sets no minutes aside for practice (days:), so there is nothing to plan.'];
  if (days.every(({ blocks }) => blocks.length === 0)) {
    if (standings.length === 0) return ['The route has no techniques yet.'];
    return [
      set.length === 0 && given.some((minutes) => minutes >= sessionLimits.shortest)
        ? 'No technique is left to practise.'
        : `No day has the ${sessionLimits.shortest} minutes that a block takes.`,
    ];
  }
  const rules = new Map<UnusedRule, number[]>();
  for (const { unused } of days) {
    if (unused === null || unusedText(unused, standings.length) === undefined) continue;
    rules.set(unused.rule, [...(rules.get(unused.rule) ?? []), unused.minutes]);
  }
  return [...rules].map(([rule, minutes]) => {
    const most = Math.max(...minutes);
    const upTo = minutes.every((n) => n === most) ? `${most} min` : `up to ${most} min`;
    return `${formatCount(minutes.length, 'day')} of the plan ${minutes.length === 1 ? 'has' : 'have'} ${upTo} unused: ${ruleText(rule, standings.length)}.`;
  });
}

function changeNotes({ asOfDay, changes }: Plan, { nameOf, dayOf }: PlanNotesOptions): string[] {
  return changes
    .filter(({ day }) => day < asOfDay + changeNoteDays)
    .map((change) =>
      change.day === asOfDay ? changeToday(change, nameOf) : changeLater(change, nameOf, dayOf),
    );
}

type Change = Plan['changes'][number];

/** On the plan's first day a technique that leaves is competent already. */
function changeToday({ technique, replacedBy }: Change, nameOf: (id: string) => string): string {
  return replacedBy === null
    ? `${nameOf(technique)} is competent and left to runs: the set has more techniques than a session has blocks.`
    : `${nameOf(replacedBy)} takes the place of ${nameOf(technique)}, which is competent: runs keep it up.`;
}

function changeLater(
  { day, technique, replacedBy }: Change,
  nameOf: (id: string) => string,
  dayOf: (day: number) => string,
): string {
  return replacedBy === null
    ? `From ${dayOf(day)} on ${nameOf(technique)} is left to runs: it should be competent by then, and the set has more techniques than a session has blocks.`
    : `From ${dayOf(day)} on ${nameOf(replacedBy)} takes the place of ${nameOf(technique)}, which should be competent by then: runs keep it up.`;
}

/** While the set has more members than any session has blocks, some wait on each day: who, and from which day they change. */
function turnNotes({ asOfDay, days }: Plan, { nameOf, dayOf }: PlanNotesOptions): string[] {
  const most = Math.max(0, ...days.map(({ blocks }) => blocks.length));
  const sessions = days.filter(({ day, blocks }) => blocks.length > 0 && day < asOfDay + changeNoteDays);
  const stretches: PlanDay[][] = [];
  for (const session of sessions) {
    const stretch = stretches.at(-1);
    if (stretch !== undefined && sameMembers(stretch[0]!.set, session.set)) stretch.push(session);
    else stretches.push([session]);
  }
  return stretches.flatMap((stretch) => {
    const [first] = stretch;
    if (first === undefined || first.set.length <= most) return [];
    const changed = stretch.find((session) => !sameMembers(practisedOn(first), practisedOn(session)));
    if (changed === undefined) return [];
    const waiting = first.set.filter((member) => stretch.some((day) => !practisedOn(day).includes(member)));
    return [
      `From ${dayOf(changed.day)} on ${formatList(waiting.map(nameOf))} take turns: the set has more techniques than a session has blocks.`,
    ];
  });
}

function practisedOn({ blocks }: PlanDay): string[] {
  return [...new Set(blocks.map(({ technique }) => technique))];
}

function sameMembers(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((member) => b.includes(member));
}

function swapNotes({ swaps }: Plan, { nameOf, toldElsewhere }: PlanNotesOptions): string[] {
  if (toldElsewhere) return [];
  return swaps.map((offer) => {
    const { reason, write } = swapText(offer, nameOf);
    return `A swap to think about: ${reason} The plan keeps ${nameOf(offer.technique)} until you put it aside: to swap, ${write}.`;
  });
}

function forecastNotes({ forecast, oneSession }: Plan, { dayOf, toldElsewhere }: PlanNotesOptions): string[] {
  const last = forecast.at(-1);
  if (!last || !(last.gain > 0)) return [];
  const session = `The same minutes of the same techniques in one long session a week are forecast to gain ${formatTwoFigures(oneSession.gain)} s by ${dayOf(last.day)}, spread out as planned ${formatTwoFigures(last.gain)} s.`;
  return [
    ...(toldElsewhere ? [] : [session]),
    'Runs to come are not foreseen: what they teach comes on top. Forecasts are ranges, and the plan is made anew with every log.',
  ];
}

function longDayNotes({ days }: Plan, { givenMinutes: given }: PlanNotesOptions): string[] {
  const long =
    given.some((minutes) => minutes > sessionLimits.twoHours) ||
    days.some(({ blocks }) => blocks.reduce((sum, { minutes }) => sum + minutes, 0) > sessionLimits.twoHours);
  if (!long) return [];
  return [
    'Long days tire hands and wrists: take the rests, and take pain as a reason to stop and see a clinician.',
  ];
}
