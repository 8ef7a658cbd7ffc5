import { scaleLinear } from 'd3';
import type { FinishedRunMark, ProgressView } from '../../../server/src/protocol/panel/progressView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 10, right: 14, bottom: 24, left: 56 };

/** Final times over the months: each finished run as a dot, the best so far as steps, and the target as a line. */
export function drawBestTimes(
  drawing: SvgSelection,
  { from, until, ticks, times }: ProgressView,
  width: number,
): number {
  const height = width < 420 ? 170 : 210;
  const bottom = height - margin.bottom;
  const right = width - margin.right;
  const { runs, bestBefore, target, fastest, slowest, timeTicks } = times;
  const x = scaleLinear([from, until], [margin.left, right]);
  const y = scaleLinear([fastest, slowest], [bottom, margin.top]);
  leftAxis(drawing, y, timeTicks, margin.left, right - margin.left);
  bottomAxis(drawing, x, ticks, bottom);
  ensureSvgChild(drawing, 'path', 'best-line').attr('d', stepsOf(runs, bestBefore, from, until, x, y));
  ensureSvgChild(drawing, 'g', 'finished-runs')
    .selectAll<SVGCircleElement, FinishedRunMark>('circle')
    .data(runs, (_, index) => String(index))
    .join((enter) => {
      const dot = enter.append('circle');
      dot.append('title');
      return dot;
    })
    .attr('class', 'finished-run')
    .attr('r', runs.length > 100 ? 2 : 3)
    .attr('cx', ({ day }) => x(day))
    .attr('cy', ({ seconds }) => y(seconds))
    .select('title')
    .text(({ text }) => text);
  const at = target === null ? 0 : y(target.seconds);
  ensureSvgChild(drawing, 'line', 'target')
    .classed('absent', target === null)
    .attr('x1', margin.left)
    .attr('x2', right)
    .attr('y1', at)
    .attr('y2', at);
  ensureSvgChild(drawing, 'text', 'target-label')
    .classed('absent', target === null)
    .attr('x', margin.left + 4)
    .attr('y', at < margin.top + 20 ? at + 13 : at - 5)
    .text(target?.text ?? '');
  return height;
}

/** The best time so far as steps, from the first run, or from the first day where there was one before. */
function stepsOf(
  runs: readonly FinishedRunMark[],
  bestBefore: number | null,
  from: number,
  until: number,
  x: (day: number) => number,
  y: (seconds: number) => number,
): string {
  let path = bestBefore === null ? '' : `M${x(from)},${y(bestBefore)}`;
  for (const { day, bestSoFar } of runs)
    path += path === '' ? `M${x(day)},${y(bestSoFar)}` : `H${x(day)}V${y(bestSoFar)}`;
  return path === '' ? '' : `${path}H${x(until)}`;
}
