import { formatList, shortened } from '../text/format.ts';
import type { AmbiguousRunner, RunnerFiles, RunnerReason } from '../workspace/runnerFiles.ts';

/** With more runners than this, a sentence names the first ones and counts the others. */
const mostNamed = 5;

/**
 * Why it is not known whose logs count, a sentence for people. The names are as the files have them: whoever shows the
 * sentence makes it safe for its place.
 *
 * @example
 * whoseLogsText({ runners: ['Ada', 'Bo'], missing: undefined }) // 'The logs hold several runners: Ada and Bo.'
 * whoseLogsText({ runners: ['Ada'], missing: 'Cy' }) // 'No log here names the runner Cy. Ada is named.'
 */
export function whoseLogsText({ runners, missing }: AmbiguousRunner): string {
  const names = runnerNames(runners);
  if (missing === undefined) return `The logs hold several runners: ${names}.`;
  return `No log here names the runner ${shortened(missing)}. ${names} ${runners.length === 1 ? 'is' : 'are'} named.`;
}

const because: Readonly<Record<RunnerReason, string>> = {
  chosen: ', as chosen',
  asked: ': they were asked about',
  only: '',
  beside: ': nobody else has files beside the route',
  week: ': the week file says so',
};

/**
 * Whose logs count and why, a sentence for people; undefined where the files name nobody else. Whoever shows it makes it
 * safe for its place.
 *
 * @example
 * countingLogsText({ runner: 'Ada', reason: 'beside' }) // 'The logs of Ada count: nobody else has files beside the route.'
 * countingLogsText({ runner: 'Ada' }) // undefined
 */
export function countingLogsText({
  runner,
  reason,
}: Pick<RunnerFiles, 'runner' | 'reason'>): string | undefined {
  return runner === undefined || reason === undefined
    ? undefined
    : `The logs of ${shortened(runner)} count${because[reason]}.`;
}

function runnerNames(runners: readonly string[]): string {
  const named = runners.length > mostNamed ? runners.slice(0, mostNamed - 1) : runners;
  const rest = runners.length - named.length;
  return formatList([...named.map(shortened), ...(rest > 0 ? [`${rest} others`] : [])]);
}
