import { isSettled, type ResetPreference } from '../../model/rank/resetPreference.ts';
import { formatList } from '../../text/format.ts';
import { formatWeight } from '../../queries/resetWeightText.ts';

/**
 * A sentence on how the first three places change with what a second lost to resets counts.
 *
 * @param nameOf the name of a technique by its id
 */
export function preferenceSentence(preference: ResetPreference, nameOf: (id: string) => string): string {
  const { now, quarter, fourTimes } = preference;
  const rests = `You choose how much a second lost to resets counts (clock_weight in the week file, ${formatWeight(now.clockWeight)} now).`;
  if (isSettled(preference))
    return `${rests} With a quarter of it (${formatWeight(quarter.clockWeight)}) or four times it (${formatWeight(fourTimes.clockWeight)}), the first three places stay the same.`;
  const places = [quarter, now, fourTimes].map(
    ({ clockWeight, first }) => `at ${formatWeight(clockWeight)} ${formatList(first.map(nameOf))}`,
  );
  return `${rests} The first three places change with it: ${places.join('; ')}.`;
}
