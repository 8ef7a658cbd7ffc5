/** What other runners found out about a technique, in sentences. */
import { resolveConstants } from '../model/core/constants.ts';
import type { RankInput } from '../model/run/preparedModel.ts';
import type { TechniqueModel } from '../model/core/types.ts';
import { othersSummary, type OthersSummary } from '../model/pool/othersSummary.ts';
import { formatCount, formatNumber, formatTenths } from '../text/format.ts';

/** What other runners found out about a technique, with the minutes that it takes at the cycle of the route. */
export interface OthersFacts extends OthersSummary {
  readonly rated: number;
  /** Minutes of practice after which half of them land half of their tries; null where fewer ever do. */
  readonly minutesToHalf: number | null;
}

/** A rating that is off by less than this many steps of difficulty is no other one. */
const sameRating = 0.5;

/** What other runners found out about a technique; null where the route has no pool, or it does not tell of it. */
export function othersFacts(
  { attemptSeconds, reloadSeconds, difficulty, others }: TechniqueModel,
  changed: RankInput['constants'],
): OthersFacts | null {
  if (others === undefined) return null;
  const summary = othersSummary(difficulty, others, resolveConstants(changed));
  const { attemptsToHalf } = summary;
  const minutesToHalf =
    attemptsToHalf === null ? null : (attemptsToHalf * (attemptSeconds + reloadSeconds)) / 60;
  return { ...summary, rated: difficulty, minutesToHalf };
}

/** The same of a technique of an input of the model, by its id. */
export function othersFactsOf(
  { route, constants }: Pick<RankInput, 'route' | 'constants'>,
  technique: string,
): OthersFacts | null {
  const found = route.techniques.find(({ id }) => id === technique);
  return found === undefined ? null : othersFacts(found, constants);
}

/**
 * How long it takes a usual runner, and how hard the technique comes: `From 12 other runners: a usual runner lands half of the tries
 * in practice after about 40 min. Rated 4, it comes like 6.1.`
 */
export function othersSentence(facts: OthersFacts): string {
  return `${paceSentence(facts)} ${ratingSentence(facts)}`;
}

function paceSentence({ runners, minutesToHalf }: OthersFacts): string {
  const from = `From ${formatCount(runners, 'other runner')}`;
  return minutesToHalf === null
    ? `${from}: most never land half of their tries in practice.`
    : `${from}: a usual runner lands half of the tries in practice after about ${roundMinutes(minutesToHalf)}.`;
}

function ratingSentence({ rated, comesLike }: OthersFacts): string {
  return Math.abs(comesLike - rated) < sameRating
    ? `It comes as it is rated: ${formatTenths(rated)}.`
    : `Rated ${formatTenths(rated)}, it comes like ${formatTenths(comesLike)}.`;
}

/** Minutes to two figures, hours from 100 minutes on. */
function roundMinutes(minutes: number): string {
  if (minutes >= 100) return `${formatNumber(minutes / 60, minutes < 600 ? 1 : 0)} h`;
  return `${formatNumber(Math.max(1, minutes < 10 ? minutes : 5 * Math.round(minutes / 5)), 0)} min`;
}

/** How much of an answer rests on other runners: for the sentences on what it rests on. Undefined where nothing does. */
export function othersBasis({ route }: Pick<RankInput, 'route'>): string | undefined {
  const told = route.techniques.flatMap(({ others }) => others ?? []);
  if (told.length === 0) return undefined;
  const most = told.reduce((max, { runners }) => Math.max(max, runners), 0);
  return `For ${formatCount(told.length, 'technique')} it counts what the pool says of the practice of up to ${formatCount(most, 'other runner')}.`;
}
