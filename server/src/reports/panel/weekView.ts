import { formatDate, formatWeekday } from '../../text/calendar.ts';
import type { Plan, PlanGain, OptimalityGap } from '../../model/week/planWeek.ts';
import type { Fact, Tick } from '../../protocol/panel/viewParts.ts';
import type { PlannedDay, WeekView } from '../../protocol/panel/weekView.ts';
import { formatCount, formatNumber, formatRange, rangeDecimals } from '../../text/format.ts';
import { dayTicks, numberTicks, techniqueInfo, techniqueName, type PanelNames } from './panelNames.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { standingReports, standingsById } from '../standingReports.ts';
import { planNotes } from '../plan/planNotes.ts';
import { gapSentence } from '../plan/planReport.ts';
import { planSummary } from '../plan/planSummary.ts';

/** The week file's minutes and days off for the planned days. */
export interface WeekFileDays {
  /** Minutes for runs and for practice, day by day from the day of the plan on. */
  readonly runMinutes: readonly number[];
  readonly givenMinutes: readonly number[];
  /** Day numbers of days off. */
  readonly off: ReadonlySet<number>;
}

/** How many days are shown one by one. */
const shownDays = 7;

/**
 * The week as the panel shows it: the next seven days, and the expected gain until the end of the plan.
 *
 * @param gap how far the plan may be from the best one, as far as that is computed
 */
export function weekView(
  plan: Plan,
  gap: OptimalityGap,
  fileDays: WeekFileDays,
  names: PanelNames,
): Omit<WeekView, 'tonight'> {
  const { asOfDay } = plan;
  const standings = standingsById(standingReports(plan.standings, names.techniques));
  const days = plan.days.slice(0, shownDays).map((day, index): PlannedDay => {
    const number = day.day;
    const runMinutes = fileDays.runMinutes[index] ?? 0;
    const off = fileDays.off.has(number);
    const blocks = day.blocks.map(({ technique, minutes, rest }) => ({
      technique,
      name: techniqueName(names, technique),
      minutes,
      rest,
    }));
    const practice = blocks.reduce((sum, { minutes }) => sum + minutes, 0);
    const today = number === asOfDay;
    const rests = blocks.slice(0, -1).reduce((sum, { rest }) => sum + rest, 0);
    return {
      date: formatDate(number),
      label: formatWeekday(number) + (today ? ', today' : ''),
      today,
      off,
      blocks,
      runMinutes,
      totalText: totalText(practice, rests, runMinutes, off),
      text: dayText(blocks, runMinutes),
    };
  });
  const [first, last] = [plan.forecast[0], plan.forecast.at(-1)];
  const decimals = rangeDecimals(plan.forecast);
  return {
    summary: planSummary({ ...plan, last: last && { ...last, morning: formatWeekday(last.day) } }, (id) =>
      techniqueName(names, id),
    ),
    set: plan.set.map((technique) => techniqueInfo(names, standings, technique)),
    outside: [...new Set([...names.pinned, ...names.leftOut])]
      .filter((technique) => standings.has(technique) && !plan.set.includes(technique))
      .map((technique) => techniqueInfo(names, standings, technique)),
    days,
    longest: days.reduce((most, day) => Math.max(most, lengthOf(day)), 0),
    forecast: plan.forecast.map(({ day, gain, low, high }) => ({
      day,
      date: formatWeekday(day),
      gain: { mean: gain, low, high },
      text: gainText({ gain, low, high }, decimals),
    })),
    ticks: first && last ? dayTicks(first.day, last.day) : [],
    gainTicks: gainTicks(plan),
    facts: weekFacts(plan),
    notes: notesBelowWeek(plan, gap, fileDays, names),
  };
}

/**
 * The notes below the week. The first says how good the plan is. While the bound is still being computed, another
 * sentence has its place, so that the list keeps its length.
 */
function notesBelowWeek(
  plan: Plan,
  gap: OptimalityGap,
  { givenMinutes }: WeekFileDays,
  names: PanelNames,
): string[] {
  const known = gap.method !== 'not bounded';
  const good = known
    ? gapSentence(gap)
    : `${gapSentence(gap)}; the most that any plan could gain is being worked out`;
  return [
    ...(plan.set.length > 0 ? [`On average over the mornings of the plan: ${good}.`] : []),
    ...planNotes(plan, {
      nameOf: (id) => techniqueName(names, id),
      dayOf: formatWeekday,
      givenMinutes,
      toldElsewhere: true,
    }).map(sanitizeForTerminal),
  ];
}

function lengthOf({ blocks, runMinutes }: PlannedDay): number {
  const practice = blocks.reduce((sum, { minutes }) => sum + minutes, 0);
  return practice + blocks.slice(0, -1).reduce((sum, { rest }) => sum + rest, 0) + runMinutes;
}

function gainTicks({ forecast }: Plan): Tick[] {
  const low = forecast.reduce((least, point) => Math.min(least, point.low), 0);
  const high = forecast.reduce((most, point) => Math.max(most, point.high), 0.1);
  return numberTicks(low, high, (value) => `${formatNumber(value, high - low < 3 ? 1 : 0)} s`);
}

function totalText(practice: number, rests: number, runs: number, off: boolean): string {
  if (practice === 0 && runs === 0) return off ? 'a day off' : 'nothing planned';
  return [
    ...(practice > 0 ? [`${practice} min practice`] : []),
    ...(rests > 0 ? [`${rests} min rest`] : []),
    ...(runs > 0 ? [`${runs} min runs`] : []),
  ].join(', ');
}

function dayText(blocks: PlannedDay['blocks'], runs: number): string {
  const parts = blocks.map(({ name, minutes, rest }, index) =>
    rest > 0 && index < blocks.length - 1 ? `${name} ${minutes} min, rest ${rest}` : `${name} ${minutes} min`,
  );
  return [...parts, ...(runs > 0 ? [`runs ${runs} min`] : [])].join('; ');
}

function gainText({ gain, low, high }: Omit<PlanGain, 'day'>, decimals: number): string {
  return `${formatRange({ low, high }, 's', decimals)}, ${formatNumber(gain, decimals)} expected`;
}

function weekFacts(plan: Plan): Fact[] {
  const facts: Fact[] = [{ label: 'In the practice set', text: formatCount(plan.set.length, 'technique') }];
  const last = plan.forecast.at(-1);
  if (!last) return facts;
  const decimals = rangeDecimals([last]);
  return [
    ...facts,
    { label: `Gain by ${formatWeekday(last.day)}`, text: gainText(last, decimals) },
    {
      label: 'The same time in one long session a week',
      text: `${formatNumber(plan.oneSession.gain, decimals)} s expected`,
    },
  ];
}
