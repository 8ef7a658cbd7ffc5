import type { Technique } from '../../../files/documents/documents.ts';
import type { Path } from '../../../files/yaml/tree.ts';
import type { WithUri } from '../../../workspace/project.ts';
import { graphCycles } from '../../lookup/graphCycles.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { Rule } from '../../engine/rule.ts';

/** The most names of a loop that are shown. */
const maxNames = 12;

/** Techniques that need each other in a circle: none of them could be learned first. */
export const needsCycle: Rule = {
  code: 'needs-cycle',
  severity: 'error',
  title: 'Techniques that need each other in a circle, or themselves.',
  needsWholeRoute: true,
  page: {
    why: 'Techniques that need each other could never be begun, and the ranking leaves all of them out.',
    way: 'Remove the need that is wrong.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, wall-kick] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, needs: [wall-kick] }
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2, needs: [crate-vault] }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, wall-kick] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2, needs: [crate-vault] }
`,
    },
  },
  check(context) {
    const { techniques, route } = context.project;
    const { entries } = routeIndexOf(context);
    const needing = entries.collect(techniques.list, thatNeeds);
    const circles = entries.getOrCompute('needs', [needing], () =>
      graphCycles(new Map(needing.map((technique) => [technique.id, technique.needs.map(({ id }) => id)]))),
    );
    return circles.flatMap((loop) => {
      const steps = loop.map((id, at) => stepOf(techniques.get(id)!, loop[(at + 1) % loop.length]!));
      const [first, ...others] = steps;
      // A loop within a route that this one extends is that route's own.
      if (first?.uri !== route.uri) return [];
      const shown = loop.length > maxNames ? [...loop.slice(0, maxNames), '…'] : loop;
      const message =
        others.length === 0
          ? `\`${first.from}\` needs itself. Remove it from its own \`needs\`.`
          : `These techniques need each other in a circle: ${[...shown, first.from].join(' → ')}. Remove one of these needs.`;
      const related = others.slice(0, maxNames).map(({ uri, path, from, to }) => ({
        uri,
        path,
        part: 'value' as const,
        message: `\`${from}\` needs \`${to}\`.`,
      }));
      return [{ uri: first.uri, path: first.path, part: 'value' as const, message, related }];
    });
  },
};

/** What needs nothing is in no loop. */
const thatNeeds = (technique: WithUri<Technique>): WithUri<Technique>[] =>
  technique.needs.length > 0 ? [technique] : [];

interface Step {
  readonly uri: string;
  readonly path: Path;
  readonly from: string;
  readonly to: string;
}

/** The place where a technique says that it needs another. */
function stepOf(technique: WithUri<Technique>, to: string): Step {
  const need = technique.needs.find(({ id }) => id === to);
  return { uri: technique.uri, path: need?.path ?? technique.path, from: technique.id, to };
}
