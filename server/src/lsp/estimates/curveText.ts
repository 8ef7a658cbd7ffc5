import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { curvePicture } from '../../reports/explain/curvePicture.ts';
import { blockLine } from '../../text/blockLine.ts';

/**
 * The landing rate of a technique in practice, week by week, as a row of bars and in words; the words say the same to a
 * person who cannot see the bars. A full bar is a rate of 100 %, and the forecast follows after the line.
 *
 * @param minutes length of the daily block that the forecast assumes
 */
export function curveText(points: readonly PracticePoint[], minutes: number): string {
  const picture = curvePicture(points, minutes);
  if (!picture) return '';
  const { from, before, after, to, sentence } = picture;
  const drawn = `${blockLine(before)}│${blockLine(after)}`;
  return ['```text', `${from} ${drawn} ${to}`, '```', sentence].join('\n');
}
