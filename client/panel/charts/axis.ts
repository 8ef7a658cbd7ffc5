import { axisBottom, axisLeft, select, type Axis, type AxisScale } from 'd3';
import type { Tick } from '../../../server/src/protocol/panel/viewParts.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';

/** Approximate width of a letter in a label, in pixels. */
const letterWidth = 6.2;

/** An axis along the bottom with the given ticks; a label that would overlap another is left out. */
export function bottomAxis(
  drawing: SvgSelection,
  scale: AxisScale<number>,
  ticks: readonly Tick[],
  y: number,
): void {
  const labels = new Map(ticks.map(({ at, label }) => [at, label]));
  let free = -Infinity;
  const kept = ticks.filter(({ at, label }) => {
    const x = Number(scale(at));
    const half = (label.length * letterWidth) / 2;
    if (x - half < free) return false;
    free = x + half + letterWidth;
    return true;
  });
  const axis = axisBottom<number>(scale)
    .tickValues(kept.map(({ at }) => at))
    .tickFormat((at) => labels.get(at) ?? '')
    .tickSizeOuter(0)
    .tickSize(4);
  renderAxis(axis, ensureSvgChild(drawing, 'g', 'x-axis').attr('transform', `translate(0,${y})`));
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
    .tickSizeOuter(0)
    .tickSize(-width)
    .tickPadding(6);
  renderAxis(axis, ensureSvgChild(drawing, 'g', 'y-axis').attr('transform', `translate(${x},0)`));
}

function renderAxis(axis: Axis<number>, place: SvgSelection): void {
  const node = place.node();
  if (node instanceof SVGGElement) axis(select(node));
}
