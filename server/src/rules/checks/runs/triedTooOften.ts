import { useName } from '../../../files/schema/ids.ts';
import { defaultNumber } from '../../../files/schema/defaults.ts';
import { currentTechniqueId, type Project } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

const defaultTries = defaultNumber('route', ['segments', 0, 'techniques', 0, 'max_tries']);

/** More tries in a run than the route has places for. */
export const triedTooOften: Rule = {
  code: 'tried-too-often',
  severity: 'warning',
  title: 'More tries of a technique than a run has room for.',
  needsWholeRoute: true,
  page: {
    why: 'Tries beyond those that the route allows are retries that it does not list: the landing rate then counts tries that a run does not have.',
    way: 'Correct the count; or write `retry` on the use, or the use that is missing, into the route.',
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:35, tried: { crate-vault: [1, 4] } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:35, tried: { crate-vault: [1, 1], rope-swing: [1, 3] } }
`,
    },
  },
  check({ project }) {
    if (project.runs.length === 0) return [];
    const room = maxTriesByTechnique(project);
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ tried, started, kind }) =>
        tried.flatMap(({ technique, use, tries, path }): RuleReport[] => {
          const id = currentTechniqueId(project, technique);
          if (id === undefined) return [];
          const name = useName(id, use);
          const most = room.get(name);
          if (most === undefined || tries <= most * started) return [];
          const where = kind === 'run' ? 'a run' : `${started} runs`;
          const message = `${tries} tries of \`${name}\`, but the route has room for ${most * started} in ${where}. Correct the count, or write into the route where it is tried again (\`retry\`, or another use).`;
          return [{ uri, path, part: 'value', message }];
        }),
      ),
    );
  },
};

/** Tries that one run allows: of each technique in all, and of each use with an id. */
function maxTriesByTechnique(project: Project): Map<string, number> {
  const room = new Map<string, number>();
  const add = (name: string, tries: number) => void room.set(name, (room.get(name) ?? 0) + tries);
  for (const use of project.segments.flatMap(({ uses }) => uses)) {
    const tries = use.retry === undefined ? 1 : (use.maxTries ?? defaultTries);
    add(use.technique, tries);
    if (use.id !== undefined) add(useName(use.technique, use.id), tries);
    if (use.backup !== undefined) add(use.backup, tries);
  }
  return room;
}
