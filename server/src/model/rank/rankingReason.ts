/** The one sentence that says why a technique has its place in the ranking. */
import type { GainUnit } from './objectives/objective.ts';
import { gambleText, isGamble, leastGain } from './gamble.ts';
import type { RankedCandidate } from './rankingOrder.ts';
import type { RankRow } from '../core/results.ts';

/** `12 %`; as reports write it. */
function percent(rate: number): string {
  return rate < 0.005 ? '<1 %' : rate > 0.995 ? '>99 %' : `${Math.round(100 * rate)} %`;
}

function formatFigures(value: number): string {
  return value >= 10 ? value.toFixed(0) : value >= 1 ? value.toFixed(1) : value.toFixed(2);
}

function gainText(gain: number, { scale, word }: GainUnit): string {
  return `${formatFigures(scale * gain)} ${word}`;
}

/** Ids of techniques in a sentence: in backquotes, so that a report can put the names in their place. */
function joinIds(ids: readonly string[]): string {
  return joinWords(ids.map((id) => `\`${id}\``));
}

function joinWords(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

function practiceText(row: RankRow): string {
  const blocks = row.blocks === 1 ? 'one block' : `${row.blocks} daily blocks`;
  return `${blocks} of ${row.blockMinutes.toFixed(0)} min`;
}

/** How the row's technique is related to the other techniques of its set. */
function setNotes(
  place: RankedCandidate,
  row: RankRow,
  needsOf: (id: string) => readonly string[],
): string[] {
  const { candidate } = place;
  const first = row.opensWith.filter((id) => candidate.openNeeds.includes(id));
  const opens = row.opensWith.filter((id) => needsOf(id).includes(candidate.id));
  const notes: string[] = [];
  if (first.length > 0) notes.push(`practised after ${joinIds(first)}`);
  if (opens.length > 0) notes.push(`it opens ${joinIds(opens)}`);
  const further = candidate.openNeeds.filter((id) => place.package?.further.includes(id));
  if (further.length > 0) notes.push(`with further practice of ${joinIds(further)}`);
  return notes;
}

/** What the gain of a technique with partners is compared with. */
function partnerNotes({ candidate, learnedPartners, atMost }: RankedCandidate, unit: GainUnit): string[] {
  const { sharesSpotWith, items } = candidate.worth;
  const learned = learnedPartners.map(({ technique }) => technique);
  const there = sharesSpotWith.filter((id) => !learned.includes(id));
  const notes: string[] = [];
  if (learned.length > 0) notes.push(`counted with ${joinIds(learned)} in the run by then`);
  if (there.length > 0)
    notes.push(`it shares a spot with ${joinIds(there)} and is compared with what is used there now`);
  if (items.length > 0) notes.push(`it depends on the item ${joinWords(items)}`);
  if (atMost !== undefined)
    notes.push(
      `not every combination with the techniques that share with it was tried, but none gains more than ${gainText(atMost, unit)} an hour`,
    );
  return notes;
}

/** One sentence for a row, in a neutral tone. `confidence` is the required chance of being competent. */
export function rankingReason(
  place: RankedCandidate,
  row: Omit<RankRow, 'reason'>,
  needsOf: (id: string) => readonly string[],
  confidence: number,
  unit: GainUnit,
): string {
  const { setGainPerHour: setRate } = place;
  const full: RankRow = { ...row, reason: '' };
  const notes = setNotes(place, full, needsOf);
  if (row.breakEven === null) {
    if (notes.length === 0)
      return 'It saves nothing alone, and what it opens is expected to gain little more.';
    return `It saves nothing alone, but ${notes.join(', ')}; together they gain ${gainText(setRate, unit)} an hour.`;
  }
  // What would be written as 0.00 is no gain to a reader; but what opens others, or is counted with others, has more to tell.
  const partners = partnerNotes(place, unit);
  const untold = notes.length + partners.length === 0 && Number(formatFigures(unit.scale * row.gain)) === 0;
  if (untold || !(row.gain > leastGain)) {
    return `More practice is expected to change little: it lands ${percent(row.runNow.mean)} in runs now.`;
  }
  if (place.package !== null) notes.push(`together they gain ${gainText(setRate, unit)} an hour`);
  notes.push(...partners);
  const change = `from ${percent(row.runNow.mean)} to ${percent(row.runThen.mean)} in runs`;
  const edge = `break-even ${percent(row.breakEven)}${resetText(row)}`;
  if (isGamble(row)) notes.unshift(gambleText(row.chanceCompetent));
  else if (row.chanceCompetent >= confidence) notes.unshift('likely competent by then');
  return `${unit.expected(gainText(row.gain, unit))} after ${practiceText(full)}, ${[`${change} (${edge})`, ...notes].join('; ')}.`;
}

/** Names the preference that a break-even rests on, if there is one. */
function resetText({ resetWeight }: Pick<RankRow, 'resetWeight'>): string {
  return resetWeight === null
    ? ''
    : `, with a second lost to resets counted as ${Number(resetWeight.toPrecision(2))} s`;
}
