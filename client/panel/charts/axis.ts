import { axisBottom, axisLeft, select, type Axis, type AxisScale } from 'd3';
import type { Tick } from '../../../server/src/protocol/panel/viewParts.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';

/** Approximate width of a letter in a label, in pixels. */
const letterWidth = 6.2;

/**
 * An axis along the bottom with the given ticks; a label that would overlap another is left out.
 *
 * @param end where the drawing ends; a label that would reach beyond it stands left of its tick. Left out: none does
 */
export function bottomAxis(
  drawing: SvgSelection,
  scale: AxisScale<number>,
  ticks: readonly Tick[],
  y: number,
  end = Infinity,
): void {
  const labels = new Map(ticks.map(({ at, label }) => [at, label]));
  const half = (label: string): number => (label.length * letterWidth) / 2;
  const isLast = (at: number): boolean => Number(scale(at)) + half(labels.get(at) ?? '') > end;
  const middle = ({ at, label }: Tick): number => Number(scale(at)) - (isLast(at) ? half(label) : 0);
  const overlap = (one: Tick, next: Tick): boolean =>
    middle(next) - half(next.label) < middle(one) + half(one.label) + letterWidth;
  const kept: Tick[] = [];
  for (const tick of ticks) {
    // The end of the axis is named before what stands close to it.
    while (isLast(tick.at) && kept.length > 1 && overlap(kept.at(-1)!, tick)) kept.pop();
    const before = kept.at(-1);
    if (before === undefined || !overlap(before, tick)) kept.push(tick);
  }
  const axis = axisBottom<number>(scale)
    .tickValues(kept.map(({ at }) => at))
    .tickFormat((at) => labels.get(at) ?? '')
    .tickSize(4)
    .tickSizeOuter(0);
  const place = ensureSvgChild(drawing, 'g', 'x-axis').attr('transform', `translate(0,${y})`);
  renderAxis(axis, place);
  place.selectAll<SVGTextElement, number>('.tick text').classed('end', isLast);
}

/** An axis along the left with the given ticks, and a horizontal line for each. */
export function leftAxis(
  drawing: SvgSelection,
  scale: AxisScale<number>,
  ticks: readonly Tick[],
  x: number,
  width: number,
): void {
  const labels = new Map(ticks.map(({ at, label }) => [at, label]));
  const axis = axisLeft<number>(scale)
    .tickValues(ticks.map(({ at }) => at))
    .tickFormat((at) => labels.get(at) ?? '')
    .tickSize(-width)
    .tickSizeOuter(0)
    .tickPadding(6);
  renderAxis(axis, ensureSvgChild(drawing, 'g', 'y-axis').attr('transform', `translate(${x},0)`));
}

function renderAxis(axis: Axis<number>, place: SvgSelection): void {
  const node = place.node();
  if (node instanceof SVGGElement) axis(select(node));
}
