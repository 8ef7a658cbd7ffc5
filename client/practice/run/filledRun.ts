import type { RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import type { FormSegment, FormUse, RunForm } from '../../../server/src/protocol/runLog/runForm.ts';
import type { WrittenEveningForm, WrittenRunForm } from '../../../server/src/protocol/runLog/writtenRun.ts';

/** How a use went in a run. */
export interface UseResult {
  readonly tried: boolean;
  readonly landed: boolean;
}

/** The segments that the run came through, so that they can have a time. */
export function playedSegments({ segments }: RunForm, draft: RunDraft): readonly FormSegment[] {
  const end = endIndex(segments, draft);
  return end < 0 ? segments : segments.slice(0, end);
}

/** The uses of the segments that the run reached. */
export function reachedUses({ segments, uses }: RunForm, draft: RunDraft): readonly FormUse[] {
  const end = endIndex(segments, draft);
  if (end < 0) return uses;
  const reached = new Set(segments.slice(0, end + 1).map(({ id }) => id));
  return uses.filter(({ segment }) => reached.has(segment));
}

/** The place of the segment where the run ended in the route; -1 where it finished, or where that is not chosen yet. */
function endIndex(segments: readonly FormSegment[], { outcome, endedAt }: RunDraft): number {
  return outcome === 'finished' ? -1 : segments.findIndex(({ id }) => id === endedAt);
}

/**
 * How a use went: what the person chose, else what is likely. What the run tries counts as landed until the person says
 * otherwise; in the segment where the run ended nobody knows how far it came, so that only the miss that ended it counts.
 */
export function resultOf(use: FormUse, draft: RunDraft): UseResult {
  const chosen = draft.uses.find(({ key }) => key === use.key);
  if (chosen) return chosen;
  if (draft.outcome !== 'finished' && use.segment === draft.endedAt)
    return { tried: draft.outcome === 'miss' && use.technique === draft.endedBy, landed: false };
  return { tried: use.tried, landed: use.tried };
}

/** The run as it is sent to be logged: only what the form shows. */
export function writtenRun(form: RunForm, draft: RunDraft): WrittenRunForm {
  const { outcome, endedAt, endedBy } = draft;
  const played = new Set(playedSegments(form, draft).map(({ id }) => id));
  return {
    start: draft.began,
    total: outcome === 'finished' ? draft.total : '',
    times: draft.times.filter(({ segment, time }) => played.has(segment) && time.trim() !== ''),
    tried: reachedUses(form, draft).flatMap((use) => {
      const { tried, landed } = resultOf(use, draft);
      return tried ? [{ use: use.use, landed: landed ? 1 : 0, tries: 1 }] : [];
    }),
    ended:
      outcome === 'finished'
        ? null
        : { at: endedAt, why: outcome, by: outcome === 'miss' && endedBy !== '' ? endedBy : null },
    on: draft.on,
  };
}

/** The evening as it is sent to be logged. What belongs to a part that the route no longer has is left out. */
export function writtenEvening({ segments, uses }: RunForm, { evening, on }: RunDraft): WrittenEveningForm {
  const known = new Set(segments.map(({ id }) => id));
  const useNames = new Map(uses.map(({ key, use }) => [key, use]));
  return {
    ...evening,
    ended: evening.ended.filter(({ segment }) => known.has(segment)),
    tried: evening.tried.flatMap(({ key, landed, tries }) => {
      const use = useNames.get(key);
      return use === undefined ? [] : [{ use, landed, tries }];
    }),
    on,
  };
}

/** A sentence on how the route differs from the one that the draft was begun for; empty where it is the same. */
export function changeSentence({ segments }: RunForm, draft: RunDraft): string {
  const now = segments.map(({ id }) => id);
  const then = draft.segments.map(({ id }) => id);
  if (now.join('\n') === then.join('\n')) return '';
  const names = new Map(draft.segments.map(({ id, name }) => [id, name]));
  const left = draft.times.filter(({ segment, time }) => !now.includes(segment) && time.trim() !== '');
  const added = segments.filter(({ id }) => !then.includes(id)).map(({ name }) => name);
  return [
    'The route has changed since this was filled in.',
    ...(added.length > 0 ? [`New in it: ${added.join(', ')}.`] : []),
    ...(left.length > 0
      ? [
          `No longer in it, and not logged with the run: ${left
            .map(({ segment, time }) => `${names.get(segment) ?? segment} ${time}`)
            .join(', ')}.`,
        ]
      : []),
  ].join(' ');
}
