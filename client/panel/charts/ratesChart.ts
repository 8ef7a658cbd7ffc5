import { line, scaleLinear, scaleSqrt, symbol, symbolCircle, symbolDiamond } from 'd3';
import type {
  ProgressView,
  RatePoint,
  TechniqueRates,
} from '../../../server/src/protocol/panel/progressView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 8, right: 14, bottom: 22, left: 42 };
const height = 130;
const shares = [0, 0.5, 1].map((at) => ({ at, label: `${100 * at} %` }));

type Kind = 'practice' | 'run';
/** Marks of practice and of runs in the same period stand this far to the left and to the right of its middle. */
const aside: Readonly<Record<Kind, number>> = { practice: -2, run: 2 };

/**
 * Landing rates of one technique: circles for practice and diamonds for runs, the larger the more tries, with the range
 * where there are few. All techniques have the same axes.
 */
export function drawRates(
  drawing: SvgSelection,
  { practice, run }: TechniqueRates,
  { from, until, ticks, mostTries, hours }: ProgressView,
  width: number,
): number {
  const x = scaleLinear([from, until], [margin.left, width - margin.right]);
  const y = scaleLinear([0, 1], [height - margin.bottom, margin.top]);
  // The area of a mark, not its width, is proportional to the tries.
  leftAxis(drawing, y, shares, margin.left, width - margin.left - margin.right);
  bottomAxis(drawing, x, ticks, height - margin.bottom);
  // Where there are many periods, marks are smaller, so that neighbours stay apart.
  const largest = Math.min(6, Math.max(3, (0.5 * (x(until) - x(from))) / hours.bars.length + 1));
  const series = [
    ['practice', practice],
    ['run', run],
  ] as const;
  for (const [kind, points] of series) {
    // Runs have far fewer tries than practice: each kind has a scale of its own, the same for all techniques.
    const reach = scaleSqrt([0, mostTries[kind]], [2, largest]);
    const across = ({ day }: RatePoint): number => x(day) + aside[kind];
    const path = stretchesOf(points)
      .map(line<RatePoint>(across, ({ rate }) => y(rate)))
      .join('');
    ensureSvgChild(drawing, 'path', `rate-line-${kind}`).attr('d', path);
    drawRanges(drawing, kind, points, across, y);
    drawMarks(drawing, kind, points, across, y, reach);
  }
  return height;
}

/** Points that follow one another without a gap. */
function stretchesOf(points: readonly RatePoint[]): RatePoint[][] {
  const stretches: RatePoint[][] = [];
  for (const point of points) {
    const last = stretches.at(-1);
    if (last && point.joined) last.push(point);
    else stretches.push([point]);
  }
  return stretches;
}

function drawRanges(
  drawing: SvgSelection,
  kind: Kind,
  points: readonly RatePoint[],
  across: (point: RatePoint) => number,
  y: (rate: number) => number,
): void {
  ensureSvgChild(drawing, 'g', `rate-ranges-${kind}`)
    .selectAll<SVGLineElement, RatePoint>('line')
    .data(
      points.filter(({ range }) => range !== null),
      ({ day }) => String(day),
    )
    .join('line')
    .attr('class', 'rate-range')
    .attr('x1', across)
    .attr('x2', across)
    .attr('y1', ({ range, rate }) => y(range?.low ?? rate))
    .attr('y2', ({ range, rate }) => y(range?.high ?? rate));
}

function drawMarks(
  drawing: SvgSelection,
  kind: Kind,
  points: readonly RatePoint[],
  across: (point: RatePoint) => number,
  y: (rate: number) => number,
  reach: (tries: number) => number,
): void {
  ensureSvgChild(drawing, 'g', `rate-marks-${kind}`)
    .selectAll<SVGPathElement, RatePoint>('path')
    .data(points, ({ day }) => String(day))
    .join((enter) => {
      const path = enter.append('path');
      path.append('title');
      return path;
    })
    .attr('class', `result ${kind}`)
    .attr('d', ({ tries }) => markPath(kind, reach(tries)))
    .attr('transform', (point) => `translate(${across(point)},${y(point.rate)})`)
    .select('title')
    .text(({ text }) => `${kind === 'run' ? 'In runs' : 'In practice'}, ${text}`);
}

/** The mark of practice or of runs, for a legend. */
export function drawRateMark(place: SvgSelection, kind: Kind, x: number, y: number, reach: number): void {
  ensureSvgChild(place, 'path', 'result')
    .classed(kind, true)
    .attr('d', markPath(kind, reach))
    .attr('transform', `translate(${x},${y})`);
}

function markPath(kind: Kind, reach: number): string | null {
  return symbol(kind === 'run' ? symbolDiamond : symbolCircle, Math.PI * reach ** 2)();
}
