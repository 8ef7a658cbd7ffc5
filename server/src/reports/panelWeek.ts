import { formatDate } from '../files/calendar.ts';
import type { Plan } from '../model/week/plan.ts';
import type { Fact, PlannedDay, Tick, WeekView } from '../protocolPanel.ts';
import { counted, decimalsFor, formatNumber, formatRange, listed } from './format.ts';
import { dayName, dayTicks, roundTicks, standingOf, type PanelNames } from './panelWords.ts';
import { plainText } from './plainText.ts';

/** A plan of practice in the panel's terms: days by their numbers, gains in seconds, times in minutes. */
export interface PlanForPanel extends Pick<
  Plan,
  'set' | 'forecast' | 'oneSession' | 'changes' | 'notPlanned'
> {
  readonly days: readonly (Pick<Plan['days'][number], 'day' | 'blocks'> & {
    readonly runMinutes: number;
    readonly off: boolean;
  })[];
}

/** Days that are shown one by one. */
const shownDays = 7;

/**
 * The week as the panel shows it: the next seven days, and the gain to expect to the end of the plan.
 *
 * @param asOfDay day number of today
 */
export function weekView(plan: PlanForPanel, asOfDay: number, names: PanelNames): WeekView {
  const days = plan.days.slice(0, shownDays).map((day): PlannedDay => {
    const number = day.day;
    const blocks = day.blocks.map(({ technique, minutes, rest }) => ({
      technique,
      name: standingOf(names, technique).name,
      minutes,
      rest,
    }));
    const practice = blocks.reduce((sum, { minutes }) => sum + minutes, 0);
    const today = number === asOfDay;
    const rests = blocks.slice(0, -1).reduce((sum, { rest }) => sum + rest, 0);
    return {
      date: formatDate(number),
      label: dayName(number) + (today ? ', today' : ''),
      today,
      off: day.off,
      blocks,
      runMinutes: day.runMinutes,
      totalText: totalText(practice, rests, day.runMinutes, day.off),
      text: dayText(blocks, day.runMinutes),
    };
  });
  const last = plan.forecast.at(-1);
  return {
    summary: summaryText(plan, names),
    set: plan.set.map((technique) => standingOf(names, technique)),
    days,
    longest: days.reduce((most, day) => Math.max(most, lengthOf(day)), 0),
    forecast: plan.forecast.map(({ day, gain, low, high }) => ({
      day,
      date: dayName(day),
      gain: { mean: gain, low, high },
      text: gainText({ gain, low, high }),
    })),
    ticks: last ? dayTicks(asOfDay, last.day) : [],
    gainTicks: gainTicks(plan),
    facts: weekFacts(plan),
    notes: notesOf(plan, names),
  };
}

function lengthOf({ blocks, runMinutes }: PlannedDay): number {
  const practice = blocks.reduce((sum, { minutes }) => sum + minutes, 0);
  return practice + blocks.slice(0, -1).reduce((sum, { rest }) => sum + rest, 0) + runMinutes;
}

function gainTicks({ forecast }: PlanForPanel): Tick[] {
  const low = forecast.reduce((least, point) => Math.min(least, point.low), 0);
  const high = forecast.reduce((most, point) => Math.max(most, point.high), 0.1);
  return roundTicks(low, high, (value) => `${formatNumber(value, high - low < 3 ? 1 : 0)} s`);
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

function gainText({ gain, low, high }: { gain: number; low: number; high: number }): string {
  const decimals = decimalsFor({ low, high });
  return `${formatRange({ low, high }, 's')}, ${formatNumber(gain, decimals)} expected`;
}

function summaryText(plan: PlanForPanel, names: PanelNames): string {
  if (plan.set.length === 0) return 'No practice is planned.';
  const set = listed(plan.set.map((id) => standingOf(names, id).name));
  const last = plan.forecast.at(-1);
  const gain = last ? ` By ${dayName(last.day)} that gains ${formatRange(last, 's')} a run.` : '';
  return `Practise ${set} each session.${gain}`;
}

function weekFacts(plan: PlanForPanel): Fact[] {
  const facts: Fact[] = [{ label: 'In the practice set', text: counted(plan.set.length, 'technique') }];
  const last = plan.forecast.at(-1);
  if (!last) return facts;
  const decimals = decimalsFor(last);
  facts.push({ label: `Gain by ${dayName(last.day)}`, text: gainText(last) });
  facts.push({
    label: 'The same time in one long session a week',
    text: `${formatNumber(plan.oneSession.gain, decimals)} s expected`,
  });
  return facts;
}

/** Minutes of practice in a day from which on it is called long. */
const longDay = 120;

function notesOf({ days, changes, notPlanned }: PlanForPanel, names: PanelNames): string[] {
  const nameOf = (id: string): string => standingOf(names, id).name;
  const long = days.some(({ blocks }) => blocks.reduce((sum, { minutes }) => sum + minutes, 0) > longDay);
  return [
    ...changes.map(({ day, technique, replacedBy, competent }) => {
      const why = competent ? 'forecast competent by then' : 'less to gain there by then';
      return `On ${dayName(day)}, ${nameOf(replacedBy)} takes the place of ${nameOf(technique)} (${why}).`;
    }),
    ...notPlanned.map(({ technique, reason }) => `${nameOf(technique)} is not planned. ${plainText(reason)}`),
    ...(long
      ? [
          'Long days tire hands and wrists: rest between blocks, and take pain as a reason to stop and see a clinician.',
        ]
      : []),
  ];
}
