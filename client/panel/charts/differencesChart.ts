import { scaleLinear, symbol, symbolCircle, symbolTriangle } from 'd3';
import type { DifferenceRow, DifferencesView } from '../../../server/src/protocol/panel/differencesView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis } from './axis.ts';
import { fitLabel } from './label.ts';

const head = 20;
const row = 46;
const line = 36;
const margin = { right: 20, left: 20 };
const footer = 26;
/** Seconds below which two times are drawn as the same, as their words say it. */
const same = 0.05;
const markSize = 60;
/** From the middle of an arrow to its tip: of an equilateral triangle of that area, in pixels. */
const tip = 2 * Math.sqrt(markSize / (3 * Math.sqrt(3)));

/**
 * Segments below one another, each with how far its second time is from the first: a line from the middle to a mark that
 * points away from it. The total comes last, with a thicker line.
 */
export function drawDifferences(drawing: SvgSelection, view: DifferencesView, width: number): number {
  const { rows, sides, ticks, reach } = view;
  const x = scaleLinear([-reach, reach], [margin.left, width - margin.right]);
  const bottom = head + rows.length * row + 2;
  ensureSvgChild(drawing, 'text', 'side-less').attr('x', 0).attr('y', 12).text(`← ${sides.less}`);
  ensureSvgChild(drawing, 'text', 'side-more')
    .classed('end', true)
    .attr('x', width)
    .attr('y', 12)
    .text(`${sides.more} →`);
  const groups = ensureSvgChild(drawing, 'g', 'differences')
    .selectAll<SVGGElement, DifferenceRow>('g')
    .data(rows, ({ id }) => id)
    .join((enter) => {
      const group = enter.append('g');
      group.append('title');
      group.append('text').attr('class', 'difference-name').attr('y', 13);
      group.append('text').attr('class', 'difference-words').attr('y', 27);
      group
        .append('line')
        .attr('class', 'zero')
        .attr('y1', line - 7)
        .attr('y2', line + 7);
      group.append('line').attr('class', 'between').attr('y1', line).attr('y2', line);
      group.append('path').attr('class', 'difference-mark');
      return group;
    })
    .attr('class', ({ isTotal }) => (isTotal ? 'difference total' : 'difference'))
    .attr('transform', (_, index) => `translate(0,${head + index * row})`);
  const at = ({ delta }: DifferenceRow): number => x(delta ?? 0);
  groups.select('title').text(({ name, words }) => `${name}: ${words}`);
  groups.select('.difference-name').text(({ name }) => fitLabel(name, width));
  groups.select('.difference-words').text(({ words }) => words);
  groups.select('.zero').attr('x1', x(0)).attr('x2', x(0));
  groups.select('.between').attr('x1', x(0)).attr('x2', at);
  groups
    .select('.difference-mark')
    .classed('absent', ({ delta }) => delta === null)
    .attr('d', ({ delta }) => symbol(Math.abs(delta ?? 0) < same ? symbolCircle : symbolTriangle, markSize)())
    .attr('transform', ({ delta }) => {
      const seconds = delta ?? 0;
      // The tip of an arrow is at the value, not its middle.
      const back = Math.abs(seconds) < same ? 0 : -Math.sign(seconds) * tip;
      return `translate(${x(seconds) + back},${line}) rotate(${seconds < 0 ? -90 : 90})`;
    });
  bottomAxis(drawing, x, ticks, bottom);
  return bottom + footer;
}
