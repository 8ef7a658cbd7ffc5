import { scaleLinear, type ScaleLinear } from 'd3';
import type { Tick } from '../../../server/src/protocol/panel/viewParts.ts';
import type { PlannedDay, WeekView } from '../../../server/src/protocol/panel/weekView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis } from './axis.ts';
import { fitLabel } from './label.ts';

const row = 26;
const bar = 18;
const labelWidth = 116;
/** Room for the minutes below the days. */
const axisHeight = 22;
/** Blocks of at least this width, in pixels, have names; where one is narrower, all have numbers. */
const nameWidth = 56;

/** A part of a day: a block of one technique, or the time for runs. */
interface DayBar {
  readonly key: string;
  readonly from: number;
  readonly minutes: number;
  readonly kind: 'block' | 'runs';
  /** Number of the technique in the key below the chart. */
  readonly mark: string;
  readonly name: string;
  readonly title: string;
}

/** A technique by the number that a narrow chart has for it. */
export interface NumberedTechnique {
  readonly technique: string;
  readonly name: string;
  readonly number: number;
}

/** The techniques of the days, numbered as they come; none where the blocks are wide enough for names. */
export function numberedTechniques(week: WeekView, width: number): NumberedTechnique[] {
  if (hasNames(week, width)) return [];
  const blocks = week.days.flatMap((day) => day.blocks);
  const byId = new Map(blocks.map(({ technique, name }) => [technique, name]));
  return [...byId].map(([technique, name], index) => ({ technique, name, number: index + 1 }));
}

function minutesScale({ longest }: WeekView, width: number): ScaleLinear<number, number> {
  return scaleLinear([0, Math.max(1, longest)], [labelWidth, width - 2]);
}

/** Whether each block has room for the name of its technique. */
function hasNames(week: WeekView, width: number): boolean {
  const x = minutesScale(week, width);
  const shortest = Math.min(...week.days.flatMap(({ blocks }) => blocks.map(({ minutes }) => minutes)));
  return x(shortest) - x(0) >= nameWidth;
}

/** Days below each other, minutes to the right: blocks with their technique, gaps for rests. */
export function drawWeek(drawing: SvgSelection, week: WeekView, width: number): number {
  const marks = new Map(numberedTechniques(week, width).map(({ technique, number }) => [technique, number]));
  const x = minutesScale(week, width);
  const days = ensureSvgChild(drawing, 'g', 'days')
    .selectAll<SVGGElement, PlannedDay>('g.day')
    .data(week.days, ({ date }) => date)
    .join((enter) => {
      const group = enter.append('g').attr('class', 'day');
      group
        .append('text')
        .attr('class', 'day-label')
        .attr('y', row / 2 + 4);
      group.append('g').attr('class', 'stretches');
      group
        .append('text')
        .attr('class', 'day-none')
        .attr('x', labelWidth)
        .attr('y', row / 2 + 4);
      return group;
    })
    .attr('transform', (_, index) => `translate(0,${index * row})`)
    .classed('is-today', ({ today }) => today);
  days.select('.day-label').text(({ label }) => label.replace(', today', ' ▸'));
  days
    .select('.day-none')
    .text(({ blocks, runMinutes, totalText }) => (blocks.length === 0 && runMinutes === 0 ? totalText : ''));
  const stretches = days
    .select('.stretches')
    .selectAll<SVGGElement, DayBar>('g')
    .data(
      (day) => dayBars(day, marks),
      ({ key }) => key,
    )
    .join((enter) => {
      const group = enter.append('g');
      group.append('title');
      group
        .append('rect')
        .attr('y', (row - bar) / 2)
        .attr('height', bar);
      group.append('text').attr('y', row / 2 + 4);
      return group;
    })
    .attr('class', ({ kind }) => `stretch ${kind}`)
    .attr('transform', ({ from }) => `translate(${x(from)},0)`);
  const wide = ({ minutes }: DayBar): number => Math.max(1, x(minutes) - x(0));
  const named = hasNames(week, width);
  const labelOf = (stretch: DayBar): string => {
    if (named) return fitLabel(stretch.name, wide(stretch));
    return wide(stretch) > stretch.mark.length * 7 ? stretch.mark : '';
  };
  stretches.select('title').text(({ title }) => title);
  stretches.select('rect').attr('width', wide);
  stretches
    .select('text')
    .attr('x', (stretch) => wide(stretch) / 2)
    .text(labelOf);
  const bottom = Math.max(1, week.days.length) * row;
  bottomAxis(drawing, x, minuteTicks(week.longest), bottom, width);
  return bottom + axisHeight;
}

/** A tick each half hour, or each hour where the days are long. */
function minuteTicks(longest: number): Tick[] {
  const step = longest > 240 ? 60 : 30;
  return Array.from({ length: Math.floor(longest / step) + 1 }, (_, i) => ({
    at: i * step,
    label: `${i * step} min`,
  }));
}

function dayBars(day: PlannedDay, marks: ReadonlyMap<string, number>): DayBar[] {
  const found: DayBar[] = [];
  let at = 0;
  day.blocks.forEach(({ technique, name, minutes, rest }, index) => {
    found.push({
      key: `${technique} ${day.blocks.slice(0, index).filter((one) => one.technique === technique).length}`,
      from: at,
      minutes,
      kind: 'block',
      mark: String(marks.get(technique) ?? ''),
      name,
      title: `${name}, ${minutes} min`,
    });
    at += minutes + (index < day.blocks.length - 1 ? rest : 0);
  });
  if (day.runMinutes > 0) {
    const title = `Runs, ${day.runMinutes} min`;
    found.push({
      key: 'runs',
      from: at,
      minutes: day.runMinutes,
      kind: 'runs',
      mark: 'runs',
      name: 'runs',
      title,
    });
  }
  return found;
}
