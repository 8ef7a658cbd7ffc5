import { currentTechniqueId } from '../../../workspace/project.ts';
import type { Block } from '../../../files/documents/documents.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Some attempts are cut short, so that a block may hold a few more than its cycle allows. */
const tolerance = 1.1;

/** A block with more attempts than its minutes leave time for. */
export const attemptsExceedMinutes: Rule = {
  code: 'attempts-exceed-minutes',
  severity: 'warning',
  title: 'More attempts than fit into the minutes of a block.',
  needsWholeRoute: true,
  page: {
    why: 'More attempts than fit into a block mean that a count, the minutes or the cycle in the route is wrong.',
    way: 'Correct the count, the minutes, or the seconds under `practice` in the route.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 5, landed: [61, 104] }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [61, 104] }]
`,
    },
  },
  check({ project }) {
    const found: RuleReport[] = [];
    for (const { uri, document } of ownPractice(project)) {
      for (const block of document.sessions.flatMap(({ blocks }) => blocks)) {
        const id = block.technique === undefined ? undefined : currentTechniqueId(project, block.technique);
        const technique = id === undefined ? undefined : project.techniques.get(id);
        if (!technique) continue;
        const attempts = attemptsOf(block);
        const cycle = technique.practice.attempt + technique.practice.reload;
        const needed = (attempts * cycle) / 60;
        if (needed <= block.minutes * tolerance) continue;
        found.push({
          uri,
          path: [...block.path, 'minutes'],
          part: 'value',
          message: `${attempts} attempts at a cycle of ${number(cycle)} s take ${number(needed)} minutes, and this block has ${number(block.minutes)}. Correct the count or the minutes here, or the seconds under \`practice\` in the route.`,
          related: [
            {
              uri: technique.uri,
              path: [...technique.path, 'practice'],
              part: 'key',
              message: `The cycle of \`${technique.id}\` is attempt plus reload.`,
            },
          ],
        });
      }
    }
    return found;
  },
};

function attemptsOf({ attempts, landed, tape, seen }: Block): number {
  return Math.max(attempts ?? 0, landed?.tries ?? 0, tape?.length ?? 0, seen?.tries ?? 0);
}

function number(value: number): string {
  return String(Number(value.toFixed(1)));
}
