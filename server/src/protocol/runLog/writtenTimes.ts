/** Times of a run as a person writes them: read in one way by the page, the server and the command line. */
import { parseTime } from '../../text/time.ts';

/** Seconds of a written time that is more than none; undefined where it is not one. */
export function readRunTime(written: string): number | undefined {
  const seconds = parseTime(written);
  return seconds !== undefined && seconds > 0 ? seconds : undefined;
}

/** What is wrong with the time of a segment that cannot be read. */
export function segmentTimeProblem(segment: string, written: string): string {
  return `${segment} needs a time such as 1:31.8, not ${written}.`;
}

/** What is wrong with a final time that cannot be read. */
export function totalProblem(written: string): string {
  return `The total needs a time such as 41:30.2, not ${written}.`;
}

/** Seconds by which rounded times of segments may miss their total. */
export const totalRounding = 0.5;

/**
 * The times of a column or a line that has them in the order of the route, with spaces, tabs, commas or lines between;
 * empty for a dash, which stands for one that is not known.
 *
 * @example
 * timesInOrder('1:31.8 - 2:00') // ['1:31.8', '', '2:00']
 */
export function timesInOrder(text: string): string[] {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '');
  return words.map((word) => (/^[-–—]$/.test(word) ? '' : word));
}
