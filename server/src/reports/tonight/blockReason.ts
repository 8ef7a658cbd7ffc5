import { gambleText } from '../../model/rank/gamble.ts';
import type { Gamble, TonightBlock } from '../../model/tonight/tonight.ts';
import { standingSentence, standingTitle } from '../../queries/standingText.ts';
import { formatHours, formatList, formatTwoFigures } from '../../text/format.ts';

/** Why a technique is practised tonight: where it stands, what an hour of it gains, and whether that is a gamble. */
export function blockReason(block: TonightBlock, nameOf: (id: string) => string): string {
  const { standing, gamble } = block;
  const stands = `${standingTitle(standing.kind)}: ${standingSentence(standing, nameOf)}`;
  const gain = gainSentence(block);
  return [
    stands,
    ...(gain === null ? [] : [gain]),
    ...(gamble === null ? [] : [`It is ${gambleAfterPractice(gamble)}.`]),
  ].join(' ');
}

/** What an hour of practice is expected to gain; null if the ranking does not say. */
function gainSentence({ gainPerHour }: TonightBlock): string | null {
  if (gainPerHour === null || !(gainPerHour >= 0.005)) return null;
  return `An hour on it is expected to gain ${formatTwoFigures(gainPerHour)} s a run.`;
}

/** `a gamble: about 3 in 10 that it pays after 2.5 h of practice`. */
function gambleAfterPractice({ chance, hours }: Gamble): string {
  return gambleText(chance, `after ${formatHours(hours)} of practice`);
}

/** A technique by its name, with the gamble that its practice is. */
export interface NamedGamble extends Gamble {
  readonly name: string;
}

/** Which techniques are gambles: one sentence for those with the same chance after the same practice. */
export function gambleSentences(gambles: readonly NamedGamble[]): string[] {
  const byText = new Map<string, string[]>();
  for (const { name, ...gamble } of gambles) {
    const text = gambleAfterPractice(gamble);
    byText.set(text, [...(byText.get(text) ?? []), name]);
  }
  return [...byText].map(
    ([text, names]) => `${formatList(names)} ${names.length === 1 ? 'is' : 'are each'} ${text}.`,
  );
}
