import { max, scaleLinear } from 'd3';
import type { RankedRow, RankingView } from '../../../server/src/protocol/panel/rankingView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis } from './axis.ts';

const row = 22;
const footer = 26;

/** The greatest gain of a ranking: the right end of its axis. */
export function greatestGain({ rows }: RankingView): number {
  return Math.max(1e-6, max(rows, ({ gain }) => Math.max(gain.high, gain.mean)) ?? 0);
}

/** The whole ranking as one drawing that can be saved: names at the left, ranges with their means at the right. */
export function drawRanking(drawing: SvgSelection, ranking: RankingView, width: number): number {
  const { rows } = ranking;
  const longest = max(rows, ({ name }) => name.length) ?? 0;
  const left = Math.min(width * 0.5, 12 + longest * 7);
  const x = scaleLinear([0, greatestGain(ranking)], [left, width - 16]);
  const height = rows.length * row + footer;
  bottomAxis(drawing, x, ranking.ticks, rows.length * row + 2);
  const groups = ensureSvgChild(drawing, 'g', 'ranges')
    .selectAll<SVGGElement, RankedRow>('g')
    .data(rows, ({ technique }) => technique)
    .join((enter) => {
      const group = enter.append('g').attr('class', 'range');
      group
        .append('text')
        .attr('class', 'range-name')
        .attr('y', row / 2 + 4);
      group
        .append('line')
        .attr('class', 'whisker')
        .attr('y1', row / 2)
        .attr('y2', row / 2);
      group
        .append('circle')
        .attr('class', 'mean')
        .attr('cy', row / 2)
        .attr('r', 3.5);
      return group;
    })
    .attr('transform', (_, index) => `translate(0,${index * row})`);
  groups
    .select('.range-name')
    .attr('x', 4)
    .text(({ name }) => name);
  groups
    .select('.whisker')
    .attr('x1', ({ gain }) => x(gain.low))
    .attr('x2', ({ gain }) => x(gain.high));
  groups.select('.mean').attr('cx', ({ gain }) => x(gain.mean));
  return height;
}
