import { area, line, max, scaleLinear } from 'd3';
import type { WeekView } from '../../../server/src/protocol/panel/weekView.ts';
import { ensureSvgChild, type SvgSelection } from '../dom.ts';
import { bottomAxis, leftAxis } from './axis.ts';

const margin = { top: 10, right: 20, bottom: 24, left: 44 };

/** Expected seconds saved per run, morning by morning over the plan, with the band. */
export function drawForecast(drawing: SvgSelection, week: WeekView, width: number): number {
  const height = width < 420 ? 150 : 180;
  const bottom = height - margin.bottom;
  const { forecast } = week;
  type Point = (typeof forecast)[number];
  const from = forecast[0]?.day ?? 0;
  const until = Math.max(forecast.at(-1)?.day ?? 0, from + 1);
  const top = Math.max(0.1, max(forecast, ({ gain }) => gain.high) ?? 0);
  const low = Math.min(0, ...forecast.map(({ gain }) => gain.low));
  const x = scaleLinear([from, until], [margin.left, width - margin.right]);
  const y = scaleLinear([low, top], [bottom, margin.top]);
  leftAxis(drawing, y, week.gainTicks, margin.left, width - margin.left - margin.right);
  bottomAxis(drawing, x, week.ticks, bottom);
  const band = area<Point>(
    ({ day }) => x(day),
    ({ gain }) => y(gain.low),
    ({ gain }) => y(gain.high),
  );
  const mean = line<Point>(
    ({ day }) => x(day),
    ({ gain }) => y(gain.mean),
  );
  ensureSvgChild(drawing, 'path', 'band-ahead').attr('d', band(forecast));
  ensureSvgChild(drawing, 'path', 'run-ahead').attr('d', mean(forecast));
  return height;
}
