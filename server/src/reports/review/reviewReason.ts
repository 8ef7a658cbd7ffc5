import type { Review, TechniqueReview } from '../../model/review/reviewWeek.ts';
import type { AttemptCount } from '../../model/core/types.ts';
import { formatCount, formatTwoFigures, formatPercent } from '../../text/format.ts';

/** Why a technique has its verdict: one or two sentences with the numbers that decide it. */
export function reviewReason(one: TechniqueReview, review: Review, nameOf: (id: string) => string): string {
  switch (one.verdict) {
    case 'untried':
      return 'Nothing of it is logged.';
    case 'slipped':
      return slipReason(one);
    case 'overPractised':
      return overReason(one, review, nameOf);
    case 'competent':
      return competentReason(one, review, nameOf);
    case 'tooFewDays':
      return crowdedReason(one);
    case 'steady':
      return steadyReason(one);
  }
}

/** Counts as `16 of 20`. */
export function countText({ landed, tries }: AttemptCount): string {
  return `${landed} of ${tries}`;
}

function slipReason({ slip }: TechniqueReview): string {
  if (slip === null) return '';
  return (
    `Landed ${countText(slip.week)} in the week's runs, where about ${formatTwoFigures(slip.expected)} were to be expected ` +
    `(${countText(slip.earlier)} in the four weeks before). By chance alone so few come ${rarityText(slip.chance)}. ` +
    'Worth a block or two before the next runs.'
  );
}

/** `once in about 1300 weeks`: a small chance in the words of everyday speech. */
function rarityText(chance: number): string {
  if (chance < 1e-6) return 'practically never';
  return `once in about ${Number((1 / chance).toPrecision(2))} such weeks`;
}

function overReason(one: TechniqueReview, { best }: Review, nameOf: (id: string) => string): string {
  const { practised, gainPerHour, run } = one;
  if (practised === null || best === null) return '';
  return (
    `Lands ${formatPercent(run.mean)} in runs. The week's ${practised.minutes.toFixed(0)} min are expected to have gained ` +
    `${formatTwoFigures(practised.gainedPerHour)} s an hour, and more would gain ${formatTwoFigures(gainPerHour ?? 0)}; ` +
    `${nameOf(best.technique)} would gain ${formatTwoFigures(best.gainPerHour)}.`
  );
}

function competentReason(
  one: TechniqueReview,
  { confidence, best }: Review,
  nameOf: (id: string) => string,
): string {
  const { state, run, breakEven, competentNow, competentBefore, practised, gainPerHour } = one;
  const since = competentBefore < confidence ? 'Since this week' : 'As before';
  const pays = `${since}, trying it in runs pays with a chance of ${formatPercent(competentNow)}: it lands ${formatPercent(run.mean)} against a break-even of ${formatPercent(breakEven ?? 0)}`;
  const next = state === 'in-run' ? '' : ', so it can be tried in runs from now on';
  const waits =
    practised !== null &&
    best !== null &&
    best.technique !== one.technique &&
    (gainPerHour ?? 0) < best.gainPerHour
      ? ` In the practice set it can make room: an hour on it gains ${formatTwoFigures(gainPerHour ?? 0)} s, one on ${nameOf(best.technique)} ${formatTwoFigures(best.gainPerHour)} s.`
      : '';
  return `${pays}${next}.${waits}`;
}

function crowdedReason({ practised }: TechniqueReview): string {
  if (practised === null) return '';
  return (
    `${formatCount(practised.blocks, 'block')} (${practised.minutes.toFixed(0)} min) on ${formatCount(practised.days, 'day')}. ` +
    `Spread over ${formatCount(practised.possibleDays, 'day')} of those you practised on, the same minutes would have counted ` +
    `for ${formatPercent(practised.wouldCount)} more.`
  );
}

function steadyReason(one: TechniqueReview): string {
  const { breakEven, run, competentNow, practised, trend, notRanked } = one;
  const lands = `Lands ${formatPercent(run.mean)} in runs`;
  if (breakEven === null)
    return `${lands}. ${notRanked ?? 'At no rate does it save time with what is in the run now.'}`;
  const pays = `against a break-even of ${formatPercent(breakEven)}: trying it pays with a chance of ${formatPercent(competentNow)}`;
  if (practised === null) return `${lands} ${pays}. Not practised this week.`;
  const moved = Math.abs(trend) < 0.005 ? 'hardly moved it' : `moved it by ${signedPoints(trend)}`;
  return `${lands} ${pays}. The week ${moved}.`;
}

/** The change of a rate in percentage points, such as `+12 points`. */
export function signedPoints(change: number): string {
  const points = Math.round(100 * change);
  return `${points > 0 ? '+' : points < 0 ? '−' : ''}${Math.abs(points)} ${Math.abs(points) === 1 ? 'point' : 'points'}`;
}
