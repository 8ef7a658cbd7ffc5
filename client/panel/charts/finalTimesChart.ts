import { max, scaleLinear } from 'd3';
import type { OddsView } from '../../../server/src/protocol/panel/oddsView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 22, right: 12, bottom: 24, left: 40 };

/** Final times of finished runs as bars, each as high as its share of them, with the target. */
export function drawFinalTimes(drawing: SvgSelection, odds: OddsView, width: number): number {
  const height = width < 420 ? 160 : 200;
  const bottom = height - margin.bottom;
  const { bins, target } = odds;
  const first = bins[0]?.from ?? 0;
  const last = bins.at(-1)?.to ?? 1;
  const low = target ? Math.min(first, target.seconds) : first;
  const high = target ? Math.max(last, target.seconds) : last;
  const x = scaleLinear([low, high], [margin.left, width - margin.right]);
  const y = scaleLinear([0, max(bins, ({ share }) => share) ?? 1], [bottom, margin.top]);
  leftAxis(drawing, y, odds.shareTicks, margin.left, width - margin.left - margin.right);
  bottomAxis(drawing, x, odds.ticks, bottom);
  ensureSvgChild(drawing, 'g', 'bars')
    .selectAll<SVGRectElement, (typeof bins)[number]>('rect')
    .data(bins, ({ from }) => String(from))
    .join((enter) => {
      const bar = enter.append('rect');
      bar.append('title');
      return bar;
    })
    .attr('class', ({ to }) => (target && to <= target.seconds ? 'bar under' : 'bar'))
    .attr('x', ({ from }) => x(from))
    .attr('width', ({ from, to }) => Math.max(0.5, x(to) - x(from) - 1))
    .attr('y', ({ share }) => y(share))
    .attr('height', ({ share }) => bottom - y(share))
    .select('title')
    .text(({ label, text }) => `${label}: ${text} of finished runs`);
  const at = target ? x(target.seconds) : 0;
  const left = at > width / 2;
  ensureSvgChild(drawing, 'line', 'target')
    .classed('absent', target === null)
    .attr('x1', at)
    .attr('x2', at)
    .attr('y1', 4)
    .attr('y2', bottom);
  ensureSvgChild(drawing, 'text', 'target-label')
    .classed('absent', target === null)
    .classed('end', left)
    .attr('x', at + (left ? -5 : 5))
    .attr('y', 13)
    .text(target?.text ?? '');
  return height;
}
