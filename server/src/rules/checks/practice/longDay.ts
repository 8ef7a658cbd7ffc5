import { runnerDayOf, formatDate } from '../../../text/calendar.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { dayStartsOf, ownPractice, runnerOf } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

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
    const { project } = context;
    const dayStarts = dayStartsOf(context);
    const own = new Set(ownPractice(project).map(({ uri }) => uri));
    const days = new Map<string, Day>();
    for (const file of project.practice) {
      for (const session of file.document.sessions) {
        const date = runnerDayOf(session.start, dayStarts);
        for (const { technique, minutes, path } of session.blocks) {
          const id = technique === undefined ? undefined : currentTechniqueId(project, technique);
          if (id === undefined) continue;
          const key = JSON.stringify([runnerOf(context, file), date, id]);
          const day = days.get(key) ?? { id, date, minutes: 0, over: undefined };
          days.set(key, day);
          day.minutes += minutes;
          if (day.minutes > maxMinutes) {
            day.over ??= { uri: file.uri, path: [...path, 'minutes'], part: 'value' };
          }
        }
      }
    }
    return [...days.values()].flatMap(({ id, date, minutes, over }): RuleReport[] => {
      // A day shared between routes is reported in the file in which the hour was passed.
      if (!over || !own.has(over.uri)) return [];
      const message = `${Number(minutes.toFixed(1))} minutes of \`${id}\` on ${formatDate(date)}. After about an hour of one movement in a day little more is learned, and hands tire: spread it over more days, and rest between blocks.`;
      return [{ ...over, message }];
    });
  },
};

interface Day {
  readonly id: string;
  readonly date: number;
  minutes: number;
  /** The block with which the hour was passed. */
  over: SourceRef | undefined;
}
