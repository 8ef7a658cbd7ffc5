import type { Path } from '../../../files/yaml/tree.ts';
import { runnerDayOf, formatDate } from '../../../text/calendar.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import { ownPractice, runnerOf } from '../../lookup/ownFiles.ts';
import { longDays } from '../../lookup/longDays.ts';
import type { RuleReport, Rule, RuleContext } from '../../engine/rule.ts';

/** The most minutes of one technique in one day that still help: common practice among runners. */
const maxMinutes = 60;

/** More than an hour of one technique in one day. */
export const longDay: Rule = {
  code: 'long-day',
  severity: 'warning',
  title: 'More than an hour on one technique in one day.',
  page: {
    why: 'After about an hour of one movement in a day little more is learned, and hands tire.',
    way: 'Spread it over more days and rest between blocks. Pain is a reason to stop and to see a clinician.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 75 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 30 }]
`,
    },
  },
  check(context) {
    const own = new Set(ownPractice(context.project).map(({ uri }) => uri));
    const keyOf = ({ runner, date, id }: TechniqueBlock) => JSON.stringify([runner, date, id]);
    return longDays(techniqueBlocks(context), maxMinutes, keyOf).flatMap(
      ({ minutes, passedBy }): RuleReport[] => {
        const { id, date, uri, path } = passedBy;
        // A day shared between routes is reported in the file in which the hour was passed.
        if (!own.has(uri)) return [];
        const message = `${Number(minutes.toFixed(1))} minutes of \`${id}\` on ${formatDate(date)}. After about an hour of one movement in a day little more is learned, and hands tire: spread it over more days, and rest between blocks.`;
        return [{ uri, path: [...path, 'minutes'], part: 'value', message }];
      },
    );
  },
};

/** A block on one technique, whenever it was. */
interface TechniqueBlock {
  /** The technique's id of today. */
  readonly id: string;
  readonly runner: string;
  readonly date: number;
  readonly minutes: number;
  readonly uri: string;
  readonly path: Path;
}

function techniqueBlocks(context: RuleContext): TechniqueBlock[] {
  const { project } = context;
  const dayStarts = dayStartsOf(context.own);
  return project.practice.flatMap((file) =>
    file.document.sessions.flatMap(({ start, blocks }) =>
      blocks.flatMap(({ technique, minutes, path }): TechniqueBlock[] => {
        const id = technique === undefined ? undefined : currentTechniqueId(project, technique);
        if (id === undefined) return [];
        const date = runnerDayOf(start, dayStarts);
        return [{ id, runner: runnerOf(context, file), date, minutes, uri: file.uri, path }];
      }),
    ),
  );
}
