import { currentTechniqueId } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A technique that the week both pins and leaves out. */
export const pinnedAndLeftOut: Rule = {
  code: 'pinned-and-left-out',
  severity: 'error',
  title: 'A technique both pinned and left out.',
  page: {
    why: 'A technique cannot be both in the practice and out of it.',
    way: 'Remove it from one of the two lists.',
    failing: {
      week: `pin: [crate-vault]
leave_out: [crate-vault]
`,
    },
    passing: {
      week: `pin: [crate-vault]
leave_out: [rope-swing]
`,
    },
  },
  check({ project }) {
    return project.weeks.flatMap(({ uri, document }) => {
      const pins = new Map(document.pin.map((pin) => [currentTechniqueId(project, pin.id) ?? pin.id, pin]));
      return document.leaveOut.flatMap(({ id, path }): RuleReport[] => {
        const pin = pins.get(currentTechniqueId(project, id) ?? id);
        if (!pin) return [];
        return [
          {
            uri,
            path,
            part: 'value',
            message: `\`${id}\` is pinned too. Remove it from \`pin\` or from \`leave_out\`.`,
            related: [{ uri, path: pin.path, part: 'value', message: 'It is pinned here.' }],
          },
        ];
      });
    });
  },
};
