import { area, line, scaleLinear, scaleSqrt, symbol, symbolCircle, symbolDiamond } from 'd3';
import type { CurvePoint, CurveResult, CurveView } from '../../../server/src/protocol/panel/curveView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 12, right: 20, bottom: 24, left: 44 };
const shares = [0, 0.25, 0.5, 0.75, 1].map((at) => ({ at, label: `${100 * at} %` }));

/** Landing rate over days: results as dots by attempts, the estimate with its band, the forecast, break-even. */
export function drawCurve(drawing: SvgSelection, curve: CurveView, width: number): number {
  const height = width < 420 ? 220 : 280;
  const inner = width - margin.left - margin.right;
  const bottom = height - margin.bottom;
  const { points, results, today, breakEven } = curve;
  const from = points[0]?.day ?? today;
  const until = Math.max(points.at(-1)?.day ?? today, from + 1);
  const x = scaleLinear([from - 0.5, until + 0.5], [margin.left, margin.left + inner]);
  const y = scaleLinear([0, 1], [bottom, margin.top]);
  leftAxis(drawing, y, shares, margin.left, inner);
  bottomAxis(drawing, x, curve.ticks, bottom);

  const now = x(today);
  ensureSvgChild(drawing, 'line', 'today')
    .attr('x1', now)
    .attr('x2', now)
    .attr('y1', margin.top)
    .attr('y2', bottom);
  const left = now > margin.left + inner - 40;
  ensureSvgChild(drawing, 'text', 'today-label')
    .attr('x', now + (left ? -4 : 4))
    .attr('y', margin.top + 10)
    .classed('end', left)
    .text('today');

  const band = area<CurvePoint>(
    ({ day }) => x(day),
    ({ run }) => y(run.low),
    ({ run }) => y(run.high),
  );
  const runLine = line<CurvePoint>(
    ({ day }) => x(day),
    ({ run }) => y(run.mean),
  );
  const practiceLine = line<CurvePoint>(
    ({ day }) => x(day),
    ({ practice }) => y(practice.mean),
  );
  for (const ahead of [false, true]) {
    const some = points.filter((point) => point.ahead === ahead);
    const when = ahead ? 'ahead' : 'past';
    ensureSvgChild(drawing, 'path', `band-${when}`).attr('d', band(some));
    ensureSvgChild(drawing, 'path', `practice-${when}`).attr('d', practiceLine(some));
    ensureSvgChild(drawing, 'path', `run-${when}`).attr('d', runLine(some));
  }
  const edge = ensureSvgChild(drawing, 'line', 'break-even');
  const edgeLabel = ensureSvgChild(drawing, 'text', 'break-even-label');
  const edgeY = breakEven === null ? 0 : y(breakEven);
  edge
    .classed('absent', breakEven === null)
    .attr('x1', margin.left)
    .attr('x2', margin.left + inner)
    .attr('y1', edgeY)
    .attr('y2', edgeY);
  edgeLabel
    .classed('absent', breakEven === null)
    .attr('x', margin.left + inner)
    .attr('y', edgeY < margin.top + 24 ? edgeY + 13 : edgeY - 5)
    .text(curve.breakEvenText ?? '');
  drawResults(
    drawing,
    results,
    (result) => x(result.day),
    (result) => y(result.rate),
  );
  return height;
}

function drawResults(
  drawing: SvgSelection,
  results: readonly CurveResult[],
  x: (result: CurveResult) => number,
  y: (result: CurveResult) => number,
): void {
  const most = results.reduce((top, { tries }) => Math.max(top, tries), 1);
  // The area of a dot, not its width, is proportional to the attempts.
  const reach = scaleSqrt([0, most], [2, 8]);
  const mark = (result: CurveResult): string | null => {
    const size = Math.PI * reach(result.tries) ** 2;
    return symbol(result.kind === 'run' ? symbolDiamond : symbolCircle, size)();
  };
  ensureSvgChild(drawing, 'g', 'results')
    .selectAll<SVGPathElement, CurveResult>('path')
    .data(results, (result) => `${result.kind} ${result.day}`)
    .join((enter) => {
      const path = enter.append('path');
      path.append('title');
      return path;
    })
    .attr('class', ({ kind }) => `result ${kind}`)
    .attr('d', mark)
    .attr('transform', (result) => `translate(${x(result)},${y(result)})`)
    .select('title')
    .text(({ date, text }) => `${date}: ${text}`);
}
