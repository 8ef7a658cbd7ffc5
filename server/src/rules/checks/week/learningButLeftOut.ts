import { currentTechniqueId } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A technique that the week calls being learned and leaves out at once. */
export const learningButLeftOut: Rule = {
  code: 'learning-but-left-out',
  severity: 'error',
  title: 'A technique called being learned and left out at once.',
  page: {
    why: 'A technique that is being learned is practised in every session; one that is left out has no block. Left out wins, so the state does nothing.',
    way: 'Remove it from `leave_out`, or take its state out of `states`.',
    failing: { week: 'states: { crate-vault: learning }\nleave_out: [crate-vault]\n' },
    passing: { week: 'states: { crate-vault: learning }\nleave_out: [rope-swing]\n' },
  },
  check({ project }) {
    return project.weeks.flatMap(({ uri, document }) => {
      const learned = new Map(
        document.states.flatMap(({ id, state, path }) =>
          state === 'learning' ? [[currentTechniqueId(project, id) ?? id, path] as const] : [],
        ),
      );
      return document.leaveOut.flatMap(({ id, path }): RuleReport[] => {
        const state = learned.get(currentTechniqueId(project, id) ?? id);
        if (!state) return [];
        const message = `\`${id}\` is \`learning\` under \`states\`, and left out here, so it has no block. Remove it from \`leave_out\` or from \`states\`.`;
        const related = [{ uri, path: state, part: 'value', message: 'Its state is written here.' } as const];
        return [{ uri, path, part: 'value', message, related }];
      });
    });
  },
};
