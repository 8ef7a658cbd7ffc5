import { compareMoments, runnerDayOf } from '../../text/calendar.ts';
import type { Moment } from '../../text/calendar.ts';
import type { Path } from '../../files/yaml/tree.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { ownPractice } from './ownFiles.ts';
import type { LookupContext } from './lookupContext.ts';
import type { SourceRef } from './sourceRef.ts';

/** How many days back rules look at habits: advice on older ones comes too late. */
export const recentDays = 14;
/** How many days back sessions are gathered. */
const maxDays = 28;

/** A block on one technique, of a session within the days asked for. */
export interface RecentBlock {
  /** The technique's id of today. */
  readonly id: string;
  readonly minutes: number;
  /** Attempts made, where all of them were counted. */
  readonly attempts: number | undefined;
  readonly day: number;
  readonly uri: string;
  readonly path: Path;
  /** Whether findings about its file belong to this project. */
  readonly isProjectFile: boolean;
}

export interface RecentSession {
  readonly uri: string;
  readonly path: Path;
  readonly start: Moment;
  readonly day: number;
  readonly isProjectFile: boolean;
  readonly blocks: readonly RecentBlock[];
  /** Minutes of all its blocks, also those on whole segments. */
  readonly minutes: number;
}

/** A context for looking back, with the last sessions where they have been gathered already. */
export interface RecentContext extends LookupContext {
  /** From old to new. */
  readonly recent?: readonly RecentSession[];
}

/** The runner's sessions of so many days before the context's `today`, from old to new. */
export function recentSessions(context: RecentContext, days = recentDays): readonly RecentSession[] {
  const sessions = context.recent ?? gatherRecentSessions(context);
  return sessions.filter(({ day }) => day >= context.today - days);
}

/** Gathers the sessions of the last days before `today`, from old to new, in time linear in the length of the logs. */
export function gatherRecentSessions(context: LookupContext): readonly RecentSession[] {
  const { project, own, today } = context;
  const dayStarts = dayStartsOf(context.own);
  const projectFiles = new Set(ownPractice(project).map(({ uri }) => uri));
  const found: RecentSession[] = [];
  for (const { uri, document } of own.practice) {
    for (const { start, path, blocks } of document.sessions) {
      const day = runnerDayOf(start, dayStarts);
      if (day >= today || day < today - maxDays) continue;
      const where = { uri, day, isProjectFile: projectFiles.has(uri) };
      found.push({
        ...where,
        path,
        start,
        minutes: minutesOf(blocks),
        blocks: blocks.flatMap(({ technique, minutes, path, attempts, landed, tape }): RecentBlock[] => {
          const id = technique === undefined ? undefined : currentTechniqueId(project, technique);
          if (id === undefined) return [];
          return [{ ...where, id, minutes, path, attempts: landed?.tries ?? tape?.length ?? attempts }];
        }),
      });
    }
  }
  return found.sort((a, b) => compareMoments(a.start, b.start));
}

/** Where a session began. */
export function sessionStartRef({ uri, path }: RecentSession): SourceRef {
  return { uri, path: [...path, 'start'], part: 'value' };
}

/** Where a block names its technique. */
export function blockTechniqueRef({ uri, path }: RecentBlock): SourceRef {
  return { uri, path: [...path, 'technique'], part: 'value' };
}

/** The days of blocks or sessions, each once, in their order. */
export function daysOf(practised: readonly { readonly day: number }[]): ReadonlySet<number> {
  return new Set(practised.map(({ day }) => day));
}

/** The minutes of blocks or sessions in all. */
export function minutesOf(practised: readonly { readonly minutes: number }[]): number {
  return practised.reduce((sum, { minutes }) => sum + minutes, 0);
}

/** Blocks by technique. */
export function groupByTechnique(sessions: readonly RecentSession[]): Map<string, RecentBlock[]> {
  const found = new Map<string, RecentBlock[]>();
  for (const block of sessions.flatMap(({ blocks }) => blocks)) {
    const list = found.get(block.id);
    if (list) list.push(block);
    else found.set(block.id, [block]);
  }
  return found;
}
