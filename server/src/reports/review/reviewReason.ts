import type { SlipTest, Standing } from '../../model/core/standing.ts';
import type { AttemptCount } from '../../model/core/types.ts';
import type { PracticeSpread } from '../../model/review/practiceSpread.ts';
import type { Review, TechniqueReview } from '../../model/review/reviewWeek.ts';
import { standingSentence } from '../../queries/standingText.ts';
import { formatCount, formatMinutes, formatTwoFigures, formatPercent } from '../../text/format.ts';

/** Where a technique stands, in its one sentence, and then what the week adds to that. */
export function reviewReason(one: TechniqueReview, review: Review, nameOf: (id: string) => string): string {
  return [standingSentence(one.standing, nameOf), ...weekFacts(one, review, nameOf)].join(' ');
}

/** What the week's runs and practice say of a technique besides where it stands, a sentence or two each. */
function weekFacts(one: TechniqueReview, review: Review, nameOf: (id: string) => string): string[] {
  const { standing, practised } = one;
  const facts: string[] = [];
  if (standing.cause.why === 'slipped') facts.push(slipFact(standing.cause.test));
  if (standing.kind === 'again') facts.push(runsAdvice(standing));
  if (standing.kind === 'in-run' && !standing.tried) facts.push('It can be tried in runs from now on.');
  if (practised === null) return facts;
  if (practised.pastUse) facts.push(pastUseFact(one, review, nameOf));
  if (practised.crowded) facts.push(crowdedFact(practised));
  if (Math.abs(one.trend) >= 0.005)
    facts.push(`The week moved its landing rate in runs by ${signedPoints(one.trend)}.`);
  return facts;
}

/** Counts as `16 of 20`. */
export function countText({ landed, tries }: AttemptCount): string {
  return `${landed} of ${tries}`;
}

function slipFact({ earlier, chance }: SlipTest): string {
  return `In the four weeks before it landed ${countText(earlier)}. Where nothing slipped, so few come ${rarityText(chance)}.`;
}

/** `once in about 1300 such weeks`: a small chance in the words of everyday speech. */
function rarityText(chance: number): string {
  if (chance < 1e-6) return 'practically never';
  return `once in about ${Number((1 / chance).toPrecision(2))} such weeks`;
}

/** What to do with a technique that is to be worked on again. */
function runsAdvice({ worthTrying }: Standing): string {
  return worthTrying
    ? 'Give it a block or two, and go on trying it in runs.'
    : 'Give it a block or two, and take the safe way in runs until then.';
}

function pastUseFact(
  { practised, gainPerHour }: TechniqueReview,
  { best }: Review,
  nameOf: (id: string) => string,
): string {
  if (practised === null || best === null) return '';
  return (
    `Practised past its use: the week's ${formatMinutes(practised.minutes)} gained about ` +
    `${formatTwoFigures(practised.gainedPerHour)} s an hour, and more would gain ${formatTwoFigures(gainPerHour ?? 0)} s an hour, ` +
    `where an hour on ${nameOf(best.technique)} would gain ${formatTwoFigures(best.gainPerHour)} s.`
  );
}

function crowdedFact(practised: PracticeSpread): string {
  return (
    `Crowded: ${formatCount(practised.blocks, 'block')} (${formatMinutes(practised.minutes)}) on ${formatCount(practised.days, 'day')}. ` +
    `Spread over ${formatCount(practised.possibleDays, 'day')} of those you practised on, the same minutes would have counted ` +
    `for ${formatPercent(practised.wouldCount)} more.`
  );
}

/** The change of a rate in percentage points, such as `+12 points`. */
export function signedPoints(change: number): string {
  const points = Math.round(100 * change);
  return `${points > 0 ? '+' : points < 0 ? '−' : ''}${Math.abs(points)} ${Math.abs(points) === 1 ? 'point' : 'points'}`;
}
