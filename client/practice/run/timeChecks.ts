import {
  readRunTime,
  segmentTimeProblem,
  totalProblem,
  totalRounding,
} from '../../../server/src/protocol/runLog/writtenTimes.ts';
import type { FormSegment } from '../../../server/src/protocol/runLog/runForm.ts';
import { formatTime } from '../../../server/src/text/time.ts';

/** What a field for a time holds. */
export interface CheckedTime {
  /** Undefined where there is none, or one that cannot be read. */
  readonly seconds: number | undefined;
  /** What is wrong with it; empty where nothing is. */
  readonly problem: string;
  /** Whether it cannot be logged as it is: a time that is only unlikely can. */
  readonly isUnreadable: boolean;
}

const nothing: CheckedTime = { seconds: undefined, problem: '', isUnreadable: false };

/** Reads the time of a segment. */
export function checkSegmentTime({ name, usual, fastest, longest }: FormSegment, text: string): CheckedTime {
  const written = text.trim();
  if (written === '') return nothing;
  const seconds = readRunTime(written);
  if (seconds === undefined)
    return { ...nothing, problem: segmentTimeProblem(name, written), isUnreadable: true };
  const unlikely = `${formatTime(seconds)} looks like a typing mistake:`;
  const problem =
    seconds < fastest
      ? `${unlikely} even with everything landed it takes about ${formatTime(fastest)} or more.`
      : seconds > longest
        ? `${unlikely} it usually takes ${formatTime(usual)}.`
        : '';
  return { seconds, problem, isUnreadable: false };
}

/**
 * Reads the final time of a run.
 *
 * @param sum seconds of the segments that have a time
 * @param isWhole whether every segment has one
 */
export function checkTotal(text: string, sum: number, isWhole: boolean): CheckedTime {
  const written = text.trim();
  if (written === '') return nothing;
  const seconds = readRunTime(written);
  if (seconds === undefined) return { ...nothing, problem: totalProblem(written), isUnreadable: true };
  const problem =
    sum > seconds + totalRounding
      ? `The segments take ${formatTime(sum)}, more than this total.`
      : isWhole && seconds - sum > totalRounding
        ? `The segments add up to ${formatTime(sum)}, less than this total.`
        : '';
  return { seconds, problem, isUnreadable: false };
}
