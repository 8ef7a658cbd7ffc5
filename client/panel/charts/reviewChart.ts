import { scaleLinear, symbol, symbolCircle, symbolSquare } from 'd3';
import type { ReviewedRow, ReviewView } from '../../../server/src/protocol/panel/reviewView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis } from './axis.ts';
import { fitLabel } from './label.ts';

const row = 46;
const line = 36;
const margin = { right: 14, left: 14 };
const footer = 26;
const shares = [0, 0.25, 0.5, 0.75, 1].map((at) => ({ at, label: `${100 * at} %` }));

/** The mark of what landed: a dot, or the square of a slip. */
export function landedMark(slipped: boolean): string | null {
  return slipped ? symbol(symbolSquare, 81)() : symbol(symbolCircle, 16 * Math.PI)();
}

/** Whether a line is seen between what landed and what was expected. */
export function isApart({ landed, expected, tries }: ReviewedRow): boolean {
  return expected !== null && Math.abs(landed - expected) / tries >= 0.005;
}

/**
 * Techniques below one another: what landed in runs as a dot, what was expected as an upright bar, both as a share of the
 * tries. Of a slip the dot is a square, and the line between the two is thick.
 */
export function drawReview(drawing: SvgSelection, { rows }: ReviewView, width: number): number {
  const x = scaleLinear([0, 1], [margin.left, width - margin.right]);
  const groups = ensureSvgChild(drawing, 'g', 'reviewed')
    .selectAll<SVGGElement, ReviewedRow>('g')
    .data(rows, ({ technique }) => technique)
    .join((enter) => {
      const group = enter.append('g');
      group.append('title');
      group.append('text').attr('class', 'reviewed-name').attr('y', 13);
      group.append('text').attr('class', 'reviewed-words').attr('y', 27);
      group.append('line').attr('class', 'ground').attr('y1', line).attr('y2', line);
      group.append('line').attr('class', 'between').attr('y1', line).attr('y2', line);
      group
        .append('line')
        .attr('class', 'expected-mark')
        .attr('y1', line - 6)
        .attr('y2', line + 6);
      group.append('path').attr('class', 'landed-mark');
      return group;
    })
    .attr('class', ({ slipped }) => (slipped ? 'reviewed-row slipped' : 'reviewed-row'))
    .attr('transform', (_, index) => `translate(0,${index * row})`);
  const landed = ({ landed: count, tries }: ReviewedRow): number => x(count / tries);
  const expected = (one: ReviewedRow): number => x((one.expected ?? one.landed) / one.tries);
  groups.select('title').text(({ name, verdict }) => `${name}: ${verdict}`);
  groups
    .select('.reviewed-name')
    .text(({ name, slipped }) => fitLabel(name, width, slipped ? ': slipped' : ''));
  groups.select('.reviewed-words').text(({ words }) => words);
  groups.select('.ground').attr('x1', x(0)).attr('x2', x(1));
  groups
    .select('.between')
    .classed('absent', (one) => !isApart(one))
    .attr('x1', landed)
    .attr('x2', expected);
  groups
    .select('.expected-mark')
    .classed('absent', ({ expected: count }) => count === null)
    .attr('x1', expected)
    .attr('x2', expected);
  groups
    .select('.landed-mark')
    .attr('d', ({ slipped }) => landedMark(slipped))
    .attr('transform', (one) => `translate(${landed(one)},${line})`);
  const bottom = rows.length * row + 2;
  bottomAxis(drawing, x, shares, bottom);
  return bottom + footer;
}
