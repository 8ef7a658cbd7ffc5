import { runnerFilesOf, runnersOf } from '../../../workspace/runnerFiles.ts';
import type { Project, WeekFile } from '../../../workspace/project.ts';
import { fileName } from '../../../workspace/fileName.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A second week file for the same route and runner: only one of them is used. */
export const unusedWeekFile: Rule = {
  code: 'unused-week-file',
  severity: 'warning',
  title: 'A second week file for the same route and runner, which is not used.',
  page: {
    why: 'One week file counts for a route and runner. What another says about days, pins and states changes nothing.',
    way: 'Put what you still want into the file that is used, and remove the other; or name the runner in each (`runner`).',
    failing: {
      'example.week.yaml': 'route: example.route.yaml\ndays: { mon: 60 }\n',
      'other.week.yaml': 'route: example.route.yaml\npin: [crate-vault]\n',
    },
    passing: {
      'example.week.yaml': 'route: example.route.yaml\ndays: { mon: 60 }\npin: [crate-vault]\n',
    },
  },
  check({ project }) {
    if (project.weeks.length < 2) return [];
    const used = usedWeeks(project);
    return project.weeks.flatMap((week): RuleReport[] => {
      if ([...used.values()].includes(week)) return [];
      const { runner } = week.document;
      const instead = used.get(runner) ?? [...used.values()][0];
      if (!instead) return [];
      const whose = runner === undefined ? '' : ` and ${runner}`;
      const name = fileName(instead.uri);
      const place = { path: ['route'], part: 'value' } as const;
      const message = `This week file is not used: for this route${whose}, \`${name}\` is. Put what you still want into \`${name}\`, or name the runner in each file.`;
      const related = [{ uri: instead.uri, ...place, message: 'This week file is used.' }];
      return [{ uri: week.uri, ...place, message, related }];
    });
  },
};

/** The week file that is used for each runner of a project; where none is named, for that one. */
function usedWeeks(project: Project): Map<string | undefined, WeekFile> {
  const runners: (string | undefined)[] = runnersOf(project);
  const used = new Map<string | undefined, WeekFile>();
  for (const runner of runners.length === 0 ? [undefined] : runners) {
    const own = runnerFilesOf(project, runner);
    if (!('runners' in own) && own.week) used.set(runner, own.week);
  }
  return used;
}
