/** The one sentence that says why a technique has its place in the ranking. */
import type { Candidate } from './candidates.ts';
import type { GainUnit } from './objectives/objective.ts';
import type { RankedCandidate } from './rankingOrder.ts';
import type { RankRow } from '../core/results.ts';

function percent(rate: number): string {
  return `${Math.round(100 * rate)} %`;
}

/** A gain below this counts as none. */
const leastGain = 1e-9;

function formatFigures(value: number): string {
  return value >= 10 ? value.toFixed(0) : value >= 1 ? value.toFixed(1) : value.toFixed(2);
}

function gainText(gain: number, { scale, word }: GainUnit): string {
  return `${formatFigures(scale * gain)} ${word}`;
}

function joinNames(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}

function practiceText(row: RankRow): string {
  const blocks = row.blocks === 1 ? 'one block' : `${row.blocks} daily blocks`;
  return `${blocks} of ${Number(row.blockMinutes.toFixed(1))} min`;
}

/** How the row's technique is related to the other techniques of its set. */
function setNotes(candidate: Candidate, row: RankRow, needsOf: (id: string) => readonly string[]): string[] {
  const first = row.opensWith.filter((id) => candidate.openNeeds.includes(id));
  const opens = row.opensWith.filter((id) => needsOf(id).includes(candidate.id));
  const notes: string[] = [];
  if (first.length > 0) notes.push(`after ${joinNames(first)}`);
  if (opens.length > 0) notes.push(`it opens ${joinNames(opens)}`);
  return notes;
}

/** What the gain of a technique with partners is compared with. */
function partnerNotes({ candidate, learnedPartners, atMost }: RankedCandidate, unit: GainUnit): string[] {
  const { sharesSpotWith, items } = candidate.worth;
  const learned = learnedPartners.map(({ technique }) => technique);
  const there = sharesSpotWith.filter((id) => !learned.includes(id));
  const notes: string[] = [];
  if (learned.length > 0) notes.push(`counted with ${joinNames(learned)} in the run by then`);
  if (there.length > 0)
    notes.push(`it shares a spot with ${joinNames(there)} and is held against what is used there now`);
  if (items.length > 0) notes.push(`it depends on the item ${joinNames(items)}`);
  if (atMost !== undefined)
    notes.push(
      `not every choice among those that share with it was tried; none gains over ${gainText(atMost, unit)} an hour`,
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
  const { candidate, setGainPerHour: setRate } = place;
  const full: RankRow = { ...row, reason: '' };
  const notes = setNotes(candidate, full, needsOf);
  if (row.breakEven === null) {
    if (notes.length === 0)
      return 'Saves nothing by itself, and what it opens is expected to gain little more.';
    return `Saves nothing by itself, but ${notes.join(', ')}, which together gain ${gainText(setRate, unit)} an hour.`;
  }
  if (!(row.gain > leastGain)) {
    return `More practice is expected to change little: it lands ${percent(row.runNow.mean)} in runs now.`;
  }
  if (row.opensWith.length > 0) notes.push(`together they gain ${gainText(setRate, unit)} an hour`);
  notes.push(...partnerNotes(place, unit));
  const change = `from ${percent(row.runNow.mean)} to ${percent(row.runThen.mean)} in runs`;
  const edge = `break-even ${percent(row.breakEven)}`;
  if (row.chanceCompetent >= confidence) notes.unshift('likely competent by then');
  return `${unit.expected(gainText(row.gain, unit))} after ${practiceText(full)}, ${[`${change} (${edge})`, ...notes].join('; ')}.`;
}
