import { compareMoments, runnerDayOf } from '../../../text/calendar.ts';
import type { Standing } from '../../../model/core/standing.ts';
import { isInSet } from '../../../model/core/standing.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { ForecastRule, RuleReport, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { listIds } from '../../lookup/words.ts';

/** The practice set of so many days is compared with that of as many days before them. */
const span = 7;
/** On fewer days of practice than this, a technique was only tried out and not part of the set. */
const minDays = 2;

/** A technique that was put aside for another before it was competent. */
export const setChangedEarly: ForecastRule = {
  code: 'set-changed-early',
  severity: 'hint',
  title: 'A technique that left the practice set before it was competent, for another.',
  page: {
    why: 'A technique that is put aside half learned has cost time and saves nothing yet: it saves seconds once it is competent.',
    way: 'Keep to the same few techniques until one is competent, or leave out what you no longer want.',
    failing: {
      practice: `sessions:
  - { start: 2026-10-01, blocks: [{ technique: rope-swing, minutes: 25, landed: [20, 200] }] }
  - { start: 2026-10-02, blocks: [{ technique: rope-swing, minutes: 25, landed: [30, 200] }] }
  - { start: 2026-10-08, blocks: [{ technique: lamp-hop, minutes: 25, landed: [60, 200] }] }
  - { start: 2026-10-09, blocks: [{ technique: lamp-hop, minutes: 25, landed: [80, 200] }] }
`,
    },
    passing: {
      practice: `sessions:
  - { start: 2026-10-01, blocks: [{ technique: rope-swing, minutes: 25, landed: [20, 200] }] }
  - { start: 2026-10-02, blocks: [{ technique: rope-swing, minutes: 25, landed: [30, 200] }] }
  - { start: 2026-10-05, blocks: [{ technique: lamp-hop, minutes: 25, landed: [60, 200] }] }
  - { start: 2026-10-06, blocks: [{ technique: rope-swing, minutes: 25, landed: [40, 200] }] }
`,
    },
  },
  techniqueIds: (context) => changed(context)?.gone.keys() ?? [],
  check(context, assessment) {
    const change = changed(context);
    if (!change) return [];
    const { gone, joined } = change;
    const early = [...gone.keys()].filter((id) => {
      const standing = assessment.get(id)?.standing;
      return standing !== undefined && leftEarly(standing);
    });
    if (early.length === 0) return [];
    const [id, place] = joined;
    const [were, them] = early.length === 1 ? ['was', 'it'] : ['were', 'they'];
    const found: RuleReport = {
      ...place,
      message: `${listIds(early)} ${were} no longer practised before ${them} ${were} competent, and \`${id}\` was begun. Keep to the same few techniques until one is competent, or leave out what you no longer want (\`leave_out\` in the week file).`,
      related: early.map((left) => ({
        ...gone.get(left)!,
        message: `\`${left}\` was last practised here.`,
      })),
    };
    return [found];
  },
};

/** Whether a technique that is not practised any more is neither in the run nor was put aside by rule or by hand. */
function leftEarly(standing: Standing): boolean {
  return isInSet(standing) || (standing.kind === 'aside' && standing.cause.why === 'not practised');
}

interface Change {
  /** Techniques of the earlier set that were not practised since, by id, each with its last block. */
  readonly gone: ReadonlyMap<string, SourceRef>;
  /** The first that was begun since, with its first block. */
  readonly joined: readonly [string, SourceRef];
}

/**
 * How the set of the last days differs from that of the days before; undefined where no technique took another's place.
 */
function changed(context: RuleContext): Change | undefined {
  const { project, own, today } = context;
  const dayStarts = dayStartsOf(context.own);
  const speaksOf = new Set(ownPractice(project).map(({ uri }) => uri));
  const earlier = new Map<string, { days: Set<number>; place: SourceRef }>();
  const since = new Map<string, SourceRef>();
  const known = new Set<string>();
  const sessions = own.practice
    .filter(({ uri }) => speaksOf.has(uri))
    .flatMap(({ uri, document }) => document.sessions.map((session) => ({ ...session, uri })))
    .sort((a, b) => compareMoments(a.start, b.start));
  for (const { uri, start, blocks } of sessions) {
    const day = runnerDayOf(start, dayStarts);
    if (day >= today) continue;
    for (const { technique, path } of blocks) {
      const id = technique === undefined ? undefined : currentTechniqueId(project, technique);
      if (id === undefined) continue;
      const place: SourceRef = { uri, path: [...path, 'technique'], part: 'value' };
      if (day >= today - span) {
        if (!since.has(id)) since.set(id, place);
        continue;
      }
      known.add(id);
      if (day < today - 2 * span) continue;
      const days = earlier.get(id)?.days ?? new Set<number>();
      earlier.set(id, { days: days.add(day), place });
    }
  }
  const gone = new Map(
    [...earlier]
      .filter(([id, { days }]) => days.size >= minDays && !since.has(id))
      .map(([id, { place }]) => [id, place] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );
  const joined = [...since].find(([id]) => !known.has(id));
  return gone.size > 0 && joined !== undefined ? { gone, joined } : undefined;
}
