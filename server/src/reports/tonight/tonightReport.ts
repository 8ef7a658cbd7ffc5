import type { NothingToPractise, NextPractice } from '../../model/tonight/whyNothing.ts';
import type { Tonight } from '../../model/tonight/tonight.ts';
import type { TonightReport } from '../../protocol/tonightReport.ts';
import { nameLookup, techniqueNamesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { standingSentence } from '../../queries/standingText.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { formatDate } from '../../text/calendar.ts';
import { standingReports } from '../standingReports.ts';
import { blockReason } from './blockReason.ts';

/** What the report says of a route's techniques. */
export interface TonightWords {
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
  /** Where the quick repeat of a technique starts, by id; a technique without one is absent. */
  readonly starts: ReadonlyMap<string, string>;
  /** A sentence about long days; undefined if they are not long. */
  readonly caution: string | undefined;
}

/** @param day day number of the day that tonight is for */
export function tonightWordsOf(project: Project, own: RunnerFiles, day: number): TonightWords {
  return {
    names: techniqueNamesOf(project),
    starts: new Map(
      [...project.techniques].flatMap(([id, { practice }]) =>
        practice.from === undefined ? [] : [[id, practice.from] as const],
      ),
    ),
    caution: overuseWarning(own, day),
  };
}

export function tonightReport(tonight: Tonight, { names, starts }: TonightWords): TonightReport {
  const nameOf = nameLookup(names);
  return {
    date: formatDate(tonight.day),
    blocks: tonight.blocks.map((block) => ({
      technique: block.technique,
      minutes: block.minutes,
      rest: block.rest,
      reason: blockReason(block, nameOf),
      from: starts.get(block.technique) ?? null,
    })),
    notInRuns: tonight.notInRuns.map(({ technique }) => technique),
    changed: tonight.changed.map(({ technique, from, to, standing }) => ({
      technique,
      from,
      to,
      reason: standingSentence(standing, nameOf),
    })),
    unusedMinutes: tonight.unused?.minutes ?? 0,
    standings: standingReports(tonight.standings, names),
    unusedRule: tonight.unused?.rule ?? null,
    done: tonight.done,
    lastDate: tonight.lastDay === null ? null : formatDate(tonight.lastDay),
    swaps: tonight.swaps,
    nothing: tonight.nothing && { why: tonight.nothing.why, next: nextDate(tonight.nothing) },
  };
}

function nextDate(nothing: NothingToPractise): string | null {
  const next: NextPractice | null = 'next' in nothing ? nothing.next : null;
  return next && formatDate(next.day);
}
