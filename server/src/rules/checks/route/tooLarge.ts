import { excessesOf, modelLimits } from '../../../queries/modelLimits.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { Rule } from '../../engine/rule.ts';

const stroke = '{ chance: 0.1, adds: 1 }';
const routeWithLuck = (strokes: number): string => `segments:
  - id: harbor
    time: 1:32.4
    techniques: [crate-vault]
    luck:
${`      - ${stroke}\n`.repeat(strokes)}techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`;

/** More of something than the model works on: nothing is estimated for the route then. */
export const tooLarge: Rule = {
  code: 'too-large',
  severity: 'error',
  title: 'More in a route or its logs than estimates can be worked out for.',
  page: {
    why: `Working out such a route would take minutes and much memory, so nothing is: no ranking, no plan, no odds. The limits are far beyond real routes: ${modelLimits.segments} segments and ${modelLimits.techniques} techniques in a route; ${modelLimits.usesInSegment} techniques used and ${modelLimits.luckInSegment} strokes of luck in a segment; ${modelLimits.waysToMiss} ways to miss at one place; chains of ${modelLimits.needsDepth} needs; ${modelLimits.blocks} blocks of practice and ${modelLimits.runs} runs or evenings in the logs.`,
    way: 'The message says what is too much and where. Often a program wrote the file, or a paste was repeated.',
    failing: { route: routeWithLuck(modelLimits.luckInSegment + 1) },
    passing: { route: routeWithLuck(2) },
  },
  check({ project }) {
    const own = new Set([project.route, ...ownPractice(project), ...project.runs].map(({ uri }) => uri));
    // What an extended route has too much of is reported there.
    return excessesOf(project).filter(({ uri }) => own.has(uri));
  },
};
