import { max, scaleLinear } from 'd3';
import type { ProgressView } from '../../../server/src/protocol/panel/progressView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 10, right: 14, bottom: 24, left: 56 };
type Bar = ProgressView['hours']['bars'][number];

/** Hours of practice a week as bars, one for each period. */
export function drawHours(
  drawing: SvgSelection,
  { from, until, ticks, hours }: ProgressView,
  width: number,
): number {
  const height = width < 420 ? 120 : 140;
  const bottom = height - margin.bottom;
  const right = width - margin.right;
  const x = scaleLinear([from, until], [margin.left, right]);
  const y = scaleLinear([0, max(hours.bars, (bar) => bar.hours) ?? 1], [bottom, margin.top]);
  leftAxis(drawing, y, hours.hourTicks, margin.left, right - margin.left);
  bottomAxis(drawing, x, ticks, bottom);
  ensureSvgChild(drawing, 'g', 'bars')
    .selectAll<SVGRectElement, Bar>('rect')
    .data(hours.bars, (bar) => String(bar.from))
    .join((enter) => {
      const bar = enter.append('rect');
      bar.append('title');
      return bar;
    })
    .attr('class', 'bar')
    .attr('x', (bar) => x(bar.from) + 1)
    .attr('width', (bar) => Math.max(0.5, x(bar.to) - x(bar.from) - 2))
    .attr('y', (bar) => y(bar.hours))
    .attr('height', (bar) => bottom - y(bar.hours))
    .select('title')
    .text(({ text }) => text);
  return height;
}
