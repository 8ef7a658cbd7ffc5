import { runnerDayOf } from '../../../text/calendar.ts';
import { weekDefaults } from '../../../files/documents/weekDocument.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { dayStartsOf, ownPractice } from '../../lookup/ownFiles.ts';
import type { ForecastRule, RuleReport, RuleContext } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** The practice set of so many days is compared with that of as many days before them. */
const span = 7;
/** On fewer days of practice than this, a technique was only tried out and not part of the set. */
const minDays = 2;

/** A technique that was put aside for another before it was competent. */
export const setChangedEarly: ForecastRule = {
  code: 'set-changed-early',
  severity: 'hint',
  title: 'A practice set that changed before anything in it was competent.',
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
  techniqueIds: (context) => changed(context)?.before.keys() ?? [],
  check(context, assessment) {
    const change = changed(context);
    if (!change) return [];
    const { before, putAside, joined } = change;
    const confidence = context.own.week?.document.confidence ?? weekDefaults.confidence;
    const chances = [...before.keys()].flatMap((id) => assessment.get(id)?.chanceAboveBreakEvenNow ?? []);
    // A competent technique may be replaced.
    if (chances.length < before.size || chances.some((chance) => chance >= confidence)) return [];
    const [id, place] = joined;
    const names = putAside.map((aside) => `\`${aside}\``).join(', ');
    const found: RuleReport = {
      ...place,
      message: `The practice set changed before anything in it was competent: ${names} ${putAside.length === 1 ? 'was' : 'were'} put aside, and \`${id}\` begun. Keep to the same few techniques until one is competent, or leave out what you no longer want (\`leave_out\` in the week file).`,
      related: putAside.map((aside) => ({
        ...before.get(aside)!,
        message: `\`${aside}\` was last practised here.`,
      })),
    };
    return [found];
  },
};

interface Change {
  /** Techniques of the earlier set, each with its last block. */
  readonly before: ReadonlyMap<string, SourceRef>;
  /** Those of them that were not practised since, and not left out in the week file. */
  readonly putAside: readonly string[];
  /** The first that was begun since, with its first block. */
  readonly joined: readonly [string, SourceRef];
}

/**
 * How the set of the last days differs from that of the days before; undefined where no technique took another's place.
 */
function changed(context: RuleContext): Change | undefined {
  const { project, own, today } = context;
  const dayStarts = dayStartsOf(context);
  const speaksOf = new Set(ownPractice(project).map(({ uri }) => uri));
  const earlier = new Map<string, { days: Set<number>; place: SourceRef }>();
  const since = new Map<string, SourceRef>();
  const known = new Set<string>();
  const sessions = own.practice
    .filter(({ uri }) => speaksOf.has(uri))
    .flatMap(({ uri, document }) => document.sessions.map((session) => ({ ...session, uri })))
    .sort((a, b) => a.start.date - b.start.date || (a.start.minute ?? 0) - (b.start.minute ?? 0));
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
  const leftOut = new Set(own.week?.document.leaveOut.map(({ id }) => currentTechniqueId(project, id) ?? id));
  const before = new Map(
    [...earlier]
      .filter(([, { days }]) => days.size >= minDays)
      .map(([id, { place }]) => [id, place] as const),
  );
  const putAside = [...before.keys()].filter((id) => !since.has(id) && !leftOut.has(id)).sort();
  const joined = [...since].find(([id]) => !known.has(id));
  return putAside.length > 0 && joined !== undefined ? { before, putAside, joined } : undefined;
}
