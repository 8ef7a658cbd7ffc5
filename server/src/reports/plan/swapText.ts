import type { SwapOffer } from '../../model/week/swapOffers.ts';
import { formatTwoFigures } from '../../text/format.ts';

/** A swap that the runner may want to make, in words: where an editor writes it, and where the runner does. */
export interface SwapText {
  readonly technique: string;
  /** The technique that would take its place. */
  readonly instead: string;
  /** `Swap Oil slick for Blind line`. */
  readonly title: string;
  /** What an hour on either is expected to gain. */
  readonly reason: string;
  /** The lines to write: `oil-slick: unlearned` and `blind-line: learning`. */
  readonly write: string;
}

/** @param nameOf the name of a technique by its id */
export function swapText(
  { technique, gainPerHour, instead, insteadGainPerHour }: SwapOffer,
  nameOf: (id: string) => string,
): SwapText {
  return {
    technique,
    instead,
    title: `Swap ${nameOf(technique)} for ${nameOf(instead)}`,
    reason: `An hour on ${nameOf(technique)} is expected to gain ${formatTwoFigures(gainPerHour)} s, one on ${nameOf(instead)} ${formatTwoFigures(insteadGainPerHour)} s.`,
    write: `write \`${technique}: unlearned\` and \`${instead}: learning\` under \`states:\` in the week file`,
  };
}
