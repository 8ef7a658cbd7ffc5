import { formatDate } from '../../text/calendar.ts';
import type { PoolAnswer } from './poolPage.ts';

/**
 * What `routewright pool --json` prints.
 *
 * @param file the file that was written; null where none was
 */
export function poolJson(
  { day, route, runners, rows, leftOut, notCounted }: PoolAnswer,
  file: string | null,
) {
  return {
    asOf: formatDate(day),
    route,
    file,
    runners,
    techniques: rows.map(({ technique, runners, rated, comesLike }) => ({
      technique,
      runners,
      rated,
      comesLike,
    })),
    leftOut: leftOut.map(({ technique, runners, reason }) => ({ technique, runners, reason })),
    notCounted: notCounted.map(({ source, reason }) => ({ source, reason })),
  };
}
